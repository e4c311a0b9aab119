#pragma once
// The recordings of demo-sessions/: invented, made from scripts, with the truth of each script.
//
// 48 kHz, mono, 1.5 s of room before and after. Times are seconds from the beginning of the
// recording; a sound's edges are where its ramps pass 20 dB below full strength.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "dsp/units.h"
#include "tests/support/signal_script.h"

namespace holdwell::test {

inline constexpr Hertz kDemoTarget{349.228};  // F4 with A4 = 440 Hz: 440 * 2^(-4/12)

struct TruePause {
    Seconds at{};
    Seconds length{};
};

struct TrueBreak {
    Seconds at{};
    Semitones size{};  // upwards positive
};

struct DemoTruth {
    std::string_view exercise;  // "hold", "glide up" or "s"
    Seconds onset{};
    Seconds offset{};
    std::optional<Hertz> f0_median;  // of a hold
    std::optional<Cents> deviation;  // of that median from kDemoTarget, sharp positive
    std::optional<Hertz> f0_first;   // of a glide
    std::optional<Hertz> f0_last;
    Seconds air_lead{};  // air sounding before the voice
    std::vector<TruePause> interruptions;
    std::vector<TrueBreak> breaks;
};

struct DemoSession {
    std::string_view name;  // the file's, without its ending
    std::string_view made;  // how, in a sentence or two
    ScriptedTake take;
    DemoTruth truth;
};

// In the order of their names; always the same samples.
std::vector<DemoSession> demo_sessions();

// What is written beside each recording: one JSON object. Times to 1 ms, f0 to 0.01 Hz, deviations
// to 0.1 cent; what does not apply is left out.
std::string truth_as_json(const DemoSession& session);

}  // namespace holdwell::test
