#pragma once
// Glides: whether a phonation travels, how far, in which direction, and where it breaks.
//
// In:    the contour of one phonation (dsp/contour.h), one point every 10 ms; gaps up to 400 ms
//        lie inside it, a longer one ends a glide before it comes here.
// Out:   values; pure functions, no state.
//
// A break is a jump of three semitones or more within 50 ms, or a voiceless gap of 40 .. 400 ms
// with voice on both sides. No published limit for a break in a glide is known to us: both are
// design choices, above the fastest smooth glide (three octaves in a second move 1.8 semitones
// in 50 ms) and below a register leap (about 7 semitones: Bloothooft et al. 2001).
// A track that leaps by a harmonic ratio and comes back to its line within about half a second is
// an error of the estimator, not of the voice (dsp/octave_repair.h).

#include <span>

#include "dsp/contour.h"
#include "dsp/hold.h"

namespace holdwell {

// True for a glide: one continuous movement of more than about three semitones. False for a
// hold: also with vibrato, with a scoop into the note or a fall out of it, and for notes sung
// in steps, however far apart they are.
bool travels(std::span<const ContourPoint> contour, SampleRate rate);

// Onset and offset are the first and the last point's: whoever knows the edges better may put
// those in their place. Lowest and highest are absent when no voice lasts 100 ms. A glide up and
// down again has the direction of its first movement.
Glide measure_glide(std::span<const ContourPoint> contour, SampleRate rate);

}  // namespace holdwell
