#pragma once
// Whether a pattern of harmonics is a voice at f, or a voice at a multiple of f read as one at f.
//
// A voice at 2 f leaves the odd lines of f empty, but for noise and for whatever alternate cycles
// differ by; a formant on the second harmonic makes them weak, but only near it. So every line that
// is not a multiple of m is compared with its neighbours that are, in the ratio of amplitudes, and
// the geometric mean of those ratios decides: one strong formant moves it little, missing lines
// much.
//
// Measured on generated voices of every kind (tests/support/pitch_gallery.h): the mean lies above
// 0.2 for 95 % of frames of a true f0 even with a formant on the second or third harmonic, below
// 0.11 for half of it with alternate cycles 5 to 10 % apart, below 0.16 in breath noise of 5 dB.

#include <cstddef>

#include "dsp/harmonic_fit.h"

namespace holdwell {

// Geometric mean over the lines that are not multiples of m: amplitude over that of the nearest
// multiples, 0.03 .. 1; lines that would drown in the noise anyway weigh little. 1 when nothing
// can be compared.
double filled_between_multiples(const LineFit& fit, std::size_t m);

// The smallest for m = 2 .. 7, from 4 on only when two multiples of m are among the lines.
double least_filled(const LineFit& fit);

}  // namespace holdwell
