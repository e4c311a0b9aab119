#pragma once
// The note to match, as a soft sung "oh": a steady pitch in the colour of a voice, because a voice
// is easier to match than a bare sine.
//
// In:    f0 (60 .. 1100 Hz), length (> 0), sample rate.
// Out:   mono samples, peak kReferencePeak, first and last sample zero, exact f0 from end to end.
// Cost:  one sine per harmonic and sample; allocates the result; no state.
//
// Harmonic k has the amplitude  |V(k f0)| / k,  V the product of three formant resonators
//   V(f) = F^2 / (F^2 - f^2 + j f B)
// with F, B of the vowel of "oh": a second-order resonance per formant after G. Fant, "Acoustic
// Theory of Speech Production", Mouton, 1960; 1/k is the net tilt of -6 dB an octave of voice
// source
// (-12) and radiation (+6) given there. The formants lie between the back vowels of "hawed" and
// "hood" for women and men in G. Peterson and H. Barney, J. Acoust. Soc. Am. 24, 175-184, 1952.

#include <vector>

#include "dsp/units.h"

namespace holdwell {

inline constexpr double kReferencePeak = 0.5;             // -6 dB below full scale: cannot clip
inline constexpr Seconds kReferenceFadeIn{80ms};          // raised cosine, as a soft beginning
inline constexpr Seconds kReferenceFadeOut{200ms};        // raised cosine
inline constexpr Hertz kReferenceHighestPartial{5000.0};  // above it a voice adds hiss, not colour

struct ReferenceTone {
    Hertz f0;
    Seconds length;  // with both fades; fades shrink together when it is shorter than they are
    SampleRate sample_rate;
};

std::vector<float> samples_of(const ReferenceTone& tone);

}  // namespace holdwell
