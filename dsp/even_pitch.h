#pragma once
// A stretch of sound, stretched and squeezed so that its f0 no longer moves: whatever belongs to
// that f0 becomes lines, also in vibrato.
//
// In:    samples, and the course of their f0.
// Out:   as many samples, read off (cubic, Catmull-Rom) where the same number of cycles has passed
//        between any two; and the f0 that they have, the mean.
// State: none; allocates nothing.

#include <span>

#include "dsp/units.h"

namespace holdwell {

// Readings of f0 at even distances, oldest first, all above zero; straight lines between them.
struct F0Course {
    std::span<const double> hz;
    double first{0.0};  // where the oldest stands, in samples
    double step{1.0};   // samples from one to the next

    double at(double place) const noexcept;
};

// `cycles` is room for as many values as x has; out.size() == x.size().
struct EvenPitchRoom {
    std::span<float> out;
    std::span<double> cycles;
};
Hertz make_pitch_even(std::span<const float> x, const F0Course& course, SampleRate rate,
                      EvenPitchRoom room) noexcept;

}  // namespace holdwell
