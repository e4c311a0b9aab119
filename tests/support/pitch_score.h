#pragma once
// How well a course of f0 estimates agrees with the truth of a scripted take.
//
// Judged are frames at least 100 ms inside a voice. Fine error: |cents| of the frames off by less
// than 100. Gross: off by more than 50 cents, of the frames with an estimate. Usable: within 50
// cents, of all frames judged. Silent: without an estimate, of all frames judged.

#include <span>
#include <vector>

#include "tests/support/signal_script.h"

namespace holdwell::test {

struct Estimate {
    Seconds time;  // the instant that the estimate is about
    std::optional<Hertz> f0;
};

struct PitchErrors {
    std::vector<double> cents;  // signed, one for every frame with an estimate
    int without_estimate{0};
};

// `delay` is taken off the time of every estimate.
PitchErrors errors_of(std::span<const Estimate> estimates, const ScriptedTake& take, Seconds delay);
PitchErrors joined(std::span<const PitchErrors> parts);

struct PitchScore {
    int frames{0};
    int fine_frames{0};  // off by less than 100 cents: what the next two are taken over
    double median_cents{0.0};
    double p95_cents{0.0};
    int estimated_frames{0};  // what the next is taken over
    double gross_percent{0.0};
    double usable_percent{0.0};
    double silent_percent{0.0};
};
PitchScore score_of(const PitchErrors& errors);

// The constant delay that best explains errors in proportion to the truth's slope.
Seconds delay_of(std::span<const std::vector<Estimate>> courses,
                 std::span<const ScriptedTake> takes);

// Frames judged voiced though no voice sounds within `margin`, and not voiced all through one.
struct VoicingErrors {
    int voiced_frames{0};
    int missed{0};
    int voiceless_frames{0};
    int falsely_voiced{0};
};
VoicingErrors voicing_errors_of(std::span<const Estimate> estimates, const ScriptedTake& take,
                                Seconds margin);

// The value below which `share` (0 .. 1) of the values lie; 0 of none.
double quantile(std::vector<double> values, double share);

}  // namespace holdwell::test
