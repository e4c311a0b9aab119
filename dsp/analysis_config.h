#pragma once
// What the signal chain is set to: the format of the samples and the limits of the search.
// Thresholds of a single detector stand beside that detector.

#include "dsp/units.h"

namespace holdwell {

struct AnalysisConfig {
    SampleRate sample_rate{48'000.0};  // 8 000 .. 192 000
    Seconds hop{10ms};                 // one FrameReading per hop
    Hertz lowest_f0{60.0};
    Hertz highest_f0{1100.0};
};

// Whole samples in one hop: never longer than it, at 22.05 kHz a fraction of a sample shorter.
inline SampleCount hop_length(const AnalysisConfig& c)
{
    constexpr double kRounding = 1e-6;  // of a product that is a whole number but for its last bits
    return {static_cast<std::int64_t>(c.hop.count() * c.sample_rate.hz + kRounding)};
}

}  // namespace holdwell
