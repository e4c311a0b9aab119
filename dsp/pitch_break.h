#pragma once
// Where a voice breaks: sudden jumps of its pitch, and voiceless gaps.
//
// In:    the contour of one phonation (dsp/contour.h).
// Out:   its line without the estimator's slips, in pieces without a jump or a gap, and the breaks
//        between the pieces. Pure functions, no state.
//
// A jump is found between two straight lines, fitted to 20 .. 75 ms before and after an instant
// and both prolonged to it: whatever moves smoothly, however fast, meets itself there. What lies
// within 20 ms is left out, because a window of 38 ms then holds both pitches.
// A gap is a run of hops 12 dB softer than the voice on both sides, or of readings without f0
// though the sound goes on. It is placed where it begins.

#include <span>
#include <vector>

#include "dsp/contour.h"
#include "dsp/hold.h"
#include "dsp/pitch_line.h"

namespace holdwell {

struct BrokenLine {
    std::vector<PitchLine> pieces;   // in order of time; none shorter than 60 ms
    std::vector<PitchBreak> breaks;  // in order of time
};

BrokenLine break_line(std::span<const ContourPoint> contour, SampleRate rate);

}  // namespace holdwell
