#pragma once
// The f0 track of one phonation, gaps included: what a glide is measured from.
//
// One point a hop (10 ms), in order of time, from the first voiced reading of the phonation to
// its last. Readings without voice inside it stay in: a gap is seen as points without f0.

#include <optional>

#include "dsp/frame_reading.h"
#include "dsp/units.h"

namespace holdwell {

struct ContourPoint {
    SampleIndex at{};         // middle of the analysed window, to which f0 belongs
    std::optional<Hertz> f0;  // absent when not voiced
    SampleIndex hop_begin{};  // first sample of the newest hop, to which level belongs
    Dbfs level{-120.0};       // RMS of that hop in the voice band
    Phonation phonation{Phonation::silence};
    double confidence{0.0};  // 0 .. 1; 0 when not voiced
};

inline ContourPoint contour_point_of(const FrameReading& r)
{
    return {r.centre, r.f0, r.hop_begin, r.hop_level, r.phonation, r.confidence};
}

}  // namespace holdwell
