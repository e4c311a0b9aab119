#include "tests/support/filters.h"

#include <cmath>
#include <complex>
#include <numbers>

namespace holdwell::test {

namespace {

constexpr double kPi = std::numbers::pi;

// Denominator shared by the low and the high pass; `k` is the pre-warped corner.
Biquad butterworth_poles(double k)
{
    const double norm = 1.0 / (1.0 + std::numbers::sqrt2 * k + k * k);
    return {.a1 = 2.0 * (k * k - 1.0) * norm, .a2 = (1.0 - std::numbers::sqrt2 * k + k * k) * norm};
}

}  // namespace

Biquad resonator(Formant formant, SampleRate rate)
{
    const double radius = std::exp(-kPi * formant.bandwidth.value / rate.hz);
    const double a1 = -2.0 * radius * std::cos(2.0 * kPi * formant.centre.value / rate.hz);
    const double a2 = radius * radius;
    return {.b0 = 1.0 + a1 + a2, .a1 = a1, .a2 = a2};
}

Biquad low_pass(Hertz corner, SampleRate rate)
{
    const double k = std::tan(kPi * corner.value / rate.hz);
    Biquad f = butterworth_poles(k);
    f.b0 = k * k / (1.0 + std::numbers::sqrt2 * k + k * k);
    f.b1 = 2.0 * f.b0;
    f.b2 = f.b0;
    return f;
}

Biquad high_pass(Hertz corner, SampleRate rate)
{
    const double k = std::tan(kPi * corner.value / rate.hz);
    Biquad f = butterworth_poles(k);
    f.b0 = 1.0 / (1.0 + std::numbers::sqrt2 * k + k * k);
    f.b1 = -2.0 * f.b0;
    f.b2 = f.b0;
    return f;
}

double resonance_gain(Formant formant, Hertz f)
{
    const std::complex<double> s{0.0, f.value};
    const std::complex<double> pole{-formant.bandwidth.value / 2.0, formant.centre.value};
    return std::norm(pole) / (std::abs(s - pole) * std::abs(s - std::conj(pole)));
}

void filter_in_place(Biquad filter, std::span<double> x)
{
    for (double& v : x) v = filter.step(v);
}

}  // namespace holdwell::test
