#pragma once
// What a phonation was: one sustained note, a glide, or neither (speech, music); and the measures
// of a hold. Pure functions over what PhonationTimer collected.

#include <span>

#include "dsp/contour.h"
#include "dsp/hold.h"
#include "dsp/listener.h"
#include "dsp/phonation_timer.h"

namespace holdwell {

// The longest stretch without interruption in which the note is kept: no gap longer than 30 ms, and
// f0 within a semitone of where it was on average over the half second before (a slow drift and
// vibrato pass, speech does not).
Seconds longest_steady_run(std::span<const ContourPoint> contour, SampleRate rate);

// One sustained note, possibly interrupted, or several joined ones: it has a steady run of a
// second, or of nine tenths of itself when it is shorter than that. Steady voiced runs in running
// speech stay below a second (common practice, no source). Nor may it be interrupted more than once
// a second.
bool is_sustained(const Phonated& phonated, SampleRate rate);

// As no throat can: in some stretch of 0.8 s (80 readings) f0 varies by less, as a standard
// deviation, than jitter of 0.06 % alone would leave of it. Voices have 0.2 to 0.7 %, the steadiest
// not less than 0.1 % (from memory), and they drift besides. A dial tone stays within it from about
// 25 dB over the room on; an instrument that is blown or bowed does not.
bool is_like_a_machine(std::span<const ContourPoint> contour);

// Measures a hold against the task's target and band, where there is one.
Hold measure_hold(const Phonated& phonated, const ListeningTask& task,
                  const AnalysisConfig& config);

// Octaves between f0 and the target when f0 is the right note elsewhere: within `band` of the
// target moved by whole octaves; 0 for the target's own octave and for any other note.
int octaves_off(Hertz target, Hertz f0, Cents band);

}  // namespace holdwell
