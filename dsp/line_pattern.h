#pragma once
// Whether a pattern of harmonics is a voice at f, or a voice at a multiple of f read as one at f.
//
// A voice at 2 f leaves the odd lines of f empty, but for noise and for whatever alternate cycles
// differ by; a formant on the second harmonic makes them weak, but only near it. So every line that
// is not a multiple of m is compared with its neighbours that are, in the ratio of amplitudes, and
// the mean of those ratios decides: where cycles alternate all of them are small, in a voice at f
// only those by the formant.

#include <array>
#include <cstddef>

#include "dsp/harmonic_fit.h"

namespace holdwell {

// The harmonics 1 .. count of a candidate. How strong they are to each other is told as they sound,
// how far each stands out of the noise where the noise is white.
struct Lines {
    using Values = std::array<double, kMostLines>;
    std::size_t count{0};
    Values power{};       // as it sounds, noise included
    Values over_noise{};  // the line's power over that of the noise alone, finite
};

// Mean over the lines that are not multiples of m: amplitude over that of the nearest multiples,
// 0 .. 1. Lines that would drown in the noise anyway weigh little, and the less all of them weigh
// together, the nearer the mean is to 1: nothing is held against a pattern that cannot be seen.
double filled_between_multiples(const Lines& lines, std::size_t m);

// The smallest for m = 2 .. 7, from 4 on only when two multiples of m are among the lines.
double least_filled(const Lines& lines);

}  // namespace holdwell
