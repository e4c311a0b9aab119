#pragma once
// f0 of one voice, hop by hop, with its standard error: the heart of the chain.
//
// In:    hops of mono samples at the stream's rate.
// Out:   one F0Reading a hop about a window of 37.3 ms that ends with the hop.
// Steps: 1. down to about 8 kHz (decimator.h), without the mains' hum if there is one
//           (mains_hum.h);
//        2. the frame once more with its noise made white, as far as that is known from what the
//           last frames left over (noise_colour.h);
//        3. the period, from low-passed copies of both (period_choice.h);
//        4. the chosen f0 is refined together with its slope by Gauss-Newton steps on the full band
//           (harmonic_refiner.h); what that leaves over of the frame as heard decides about voice.
// Delay: 18.6 ms (half the window) + 1.4 ms (decimation filter).
// State: under 100 kB at 48 kHz, allocated by the constructor.

#include <memory>
#include <optional>
#include <span>

#include "dsp/analysis_config.h"
#include "dsp/units.h"

namespace holdwell {

struct F0Reading {
    SampleIndex centre{};          // of the window, in input samples
    std::optional<Hertz> f0{};     // mean over 40 ms; absent where no voice is to be expected
    std::optional<Cents> error{};  // standard error; engaged with f0
    double slope_semitones_per_s{0.0};
    double residual{1.0};  // share of the window's energy that does not repeat, 0 .. 1
    bool periodic{false};  // that f0 is to be believed, apart from its level
};

class F0Estimator {
public:
    explicit F0Estimator(const AnalysisConfig& config);
    ~F0Estimator();
    F0Estimator(F0Estimator&&) noexcept;
    F0Estimator& operator=(F0Estimator&&) noexcept;

    // hop.size() == hop_length(config), finite samples. `over_room`: the window's level over the
    // noise floor, which weighs against voice when it is small. Allocates nothing. [any]
    F0Reading push(std::span<const float> hop, Decibels over_room) noexcept;
    void reset() noexcept;
    // So many samples were lost: the window starts afresh, time goes on. [any]
    void skip(SampleCount lost) noexcept;

private:
    struct Chain;
    std::unique_ptr<Chain> chain_;
};

}  // namespace holdwell
