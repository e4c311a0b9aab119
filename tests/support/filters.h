#pragma once
// Second-order sections for shaping test signals: resonator, Butterworth low and high pass.
//
// Resonator: D. H. Klatt, "Software for a cascade/parallel formant synthesizer", J. Acoust. Soc.
// Am. 67(3), 971-995, 1980 (gain 1 at 0 Hz). Butterworth: bilinear transform with pre-warping.

#include <span>

#include "dsp/units.h"

namespace holdwell::test {

// y[n] = b0 x[n] + b1 x[n-1] + b2 x[n-2] - a1 y[n-1] - a2 y[n-2]
struct Biquad {
    double b0{1.0}, b1{0.0}, b2{0.0}, a1{0.0}, a2{0.0};
    double s1{0.0}, s2{0.0};

    double step(double x)
    {
        const double y = b0 * x + s1;
        s1 = b1 * x - a1 * y + s2;
        s2 = b2 * x - a2 * y;
        return y;
    }
};

struct Formant {
    Hertz centre;
    Hertz bandwidth;
};

Biquad resonator(Formant formant, SampleRate rate);
Biquad low_pass(Hertz corner, SampleRate rate);   // 12 dB an octave
Biquad high_pass(Hertz corner, SampleRate rate);  // 12 dB an octave

// |H| of a resonator at f in continuous time, gain 1 at 0 Hz.
double resonance_gain(Formant formant, Hertz f);

void filter_in_place(Biquad filter, std::span<double> x);

}  // namespace holdwell::test
