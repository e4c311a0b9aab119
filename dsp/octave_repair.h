#pragma once
// Puts right what an f0 estimator gets wrong by a whole harmonic ratio.
//
// In:    a line of voiced points (dsp/pitch_line.h).
// Out:   the same points, those judged wrong moved by 1 : 2, 1 : 3, 1 : 4 or 1 : 5 to where the
//        voice was.
//
// The likeliest of all ways to have been wrong, by dynamic programming: a leap costs up to 6, going
// wrong or coming right 1.5, and staying wrong 0.15 a point. So a track that leaves its line for an
// exact ratio and comes back within about half a second is taken for an error, and a leap that
// lasts, or is no such ratio, for the voice's own. Prices are ours.

#include "dsp/pitch_line.h"

namespace holdwell {

PitchLine with_octaves_repaired(const PitchLine& line);

}  // namespace holdwell
