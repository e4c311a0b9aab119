#pragma once
// f0 estimators behind one interface, so that all are judged on the same samples: ours, and those
// of aubio 0.4.9.

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "dsp/units.h"
#include "tests/support/pitch_score.h"

namespace holdwell::bench {

class PitchMethod {
public:
    virtual ~PitchMethod() = default;
    PitchMethod() = default;
    PitchMethod(const PitchMethod&) = delete;
    PitchMethod& operator=(const PitchMethod&) = delete;

    // One hop of hop_length(rate) samples.
    virtual test::Estimate push(std::span<const float> hop) = 0;
};

// Samples in 10 ms.
SampleCount hop_length(SampleRate rate);

struct MethodKind {
    std::string name;
    std::unique_ptr<PitchMethod> (*make)(SampleRate rate);
};
// The first is ours.
const std::vector<MethodKind>& method_kinds();

// Times of our estimates are as
// stamped by the analyzer; aubio's are the end of the hop.
std::unique_ptr<PitchMethod> make_our_method(SampleRate rate);
// Window 2048, hop 10 ms, silence gate and tolerance as the library sets them.
template <int which>
std::unique_ptr<PitchMethod> make_aubio_method(SampleRate rate);
inline constexpr const char* kAubioNames[] = {"yin",   "yinfft", "yinfast",
                                              "mcomb", "fcomb",  "schmitt"};

std::vector<test::Estimate> estimates_of(const MethodKind& kind, std::span<const float> samples,
                                         SampleRate rate);

}  // namespace holdwell::bench
