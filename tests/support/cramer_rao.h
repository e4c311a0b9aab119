#pragma once
// The Cramer-Rao bound on f0: no unbiased estimator has a smaller standard error.
//
// A harmonic tone of known number of harmonics and unknown amplitudes and phases in white
// Gaussian noise. The Fisher information of f0 is |P d|^2 / sigma^2, where d is the derivative of
// the signal by f0 and P projects away what the 2K amplitudes could explain; the bound is its
// inverse's root. Textbook: S. M. Kay, "Fundamentals of Statistical Signal Processing: Estimation
// Theory", 1993, chapter 3. Averaged over random phases.

#include <vector>

#include "dsp/units.h"

namespace holdwell::test {

struct HarmonicTone {
    Hertz f0;
    std::vector<double> amplitudes;  // of harmonics 1, 2, ...
};
HarmonicTone tone_with_falling_harmonics(Hertz f0, int harmonics);  // amplitudes 1/k

// `snr` compares the tone's power with the noise's in 0 .. rate/2.
Cents f0_bound(const HarmonicTone& tone, Seconds window, SampleRate rate, Decibels snr);

}  // namespace holdwell::test
