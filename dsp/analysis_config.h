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

// Samples in one hop.
inline SampleCount hop_length(const AnalysisConfig& c) { return samples_in(c.hop, c.sample_rate); }

}  // namespace holdwell
