#pragma once
// Second-order filter sections, and Butterworth low- and high-pass filters made of them.
//
// In:    samples, any scale, one at a time.
// Out:   filtered samples; gain 1 in the pass band, -3.01 dB at the corner.
// Delay: that of the filter itself, below half a period of the corner frequency.
// State: two numbers a section; no allocation.
//
// A Butterworth filter of order 2N is N sections with the Q of the N pairs of its poles,
//   Q_k = 1 / (2 cos((2k - 1) pi / 4N)),  k = 1 .. N,
// each turned into a digital section by the bilinear transform with the corner prewarped:
//   w0 = 2 pi f / rate,  alpha = sin(w0) / 2Q.
// Formulas: R. Bristow-Johnson, "Audio EQ Cookbook" (W3C Working Group Note, 2021), LPF and HPF.
// Form: transposed direct form II, in double: corners far below the rate keep their precision.

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "dsp/units.h"

namespace holdwell {

struct BiquadCoefficients {
    double b0{1.0}, b1{0.0}, b2{0.0};
    double a1{0.0}, a2{0.0};
};

class Biquad {
public:
    constexpr Biquad() = default;
    constexpr explicit Biquad(const BiquadCoefficients& c) : c_{c} {}

    double push(double x) noexcept
    {
        const double y = c_.b0 * x + s1_;
        s1_ = c_.b1 * x - c_.a1 * y + s2_;
        s2_ = c_.b2 * x - c_.a2 * y;
        return y;
    }

    // Forgets the past. Also to be called between hops: a tail that has decayed below anything
    // audible is set to zero, since subnormal numbers are many times slower.
    void reset() noexcept { s1_ = s2_ = 0.0; }
    void flush() noexcept
    {
        if (std::abs(s1_) < 1e-30) s1_ = 0.0;
        if (std::abs(s2_) < 1e-30) s2_ = 0.0;
    }

private:
    BiquadCoefficients c_{};
    double s1_{0.0}, s2_{0.0};
};

// `corner` lies between 0 and half the rate, exclusive.
inline BiquadCoefficients low_pass_section(Hertz corner, double q, SampleRate rate)
{
    const double w0 = 2.0 * std::numbers::pi * corner.value / rate.hz;
    const double alpha = std::sin(w0) / (2.0 * q);
    const double cosine = std::cos(w0);
    const double a0 = 1.0 + alpha;
    const double b = (1.0 - cosine) / a0;
    return {b / 2.0, b, b / 2.0, -2.0 * cosine / a0, (1.0 - alpha) / a0};
}

inline BiquadCoefficients high_pass_section(Hertz corner, double q, SampleRate rate)
{
    const double w0 = 2.0 * std::numbers::pi * corner.value / rate.hz;
    const double alpha = std::sin(w0) / (2.0 * q);
    const double cosine = std::cos(w0);
    const double a0 = 1.0 + alpha;
    const double b = (1.0 + cosine) / a0;
    return {b / 2.0, -b, b / 2.0, -2.0 * cosine / a0, (1.0 - alpha) / a0};
}

// A filter of order 2 * Sections.
template <std::size_t Sections>
class BiquadCascade {
public:
    constexpr BiquadCascade() = default;

    static BiquadCascade low_pass(Hertz corner, SampleRate rate)
    {
        BiquadCascade f;
        for (std::size_t k = 0; k < Sections; ++k)
            f.sections_[k] = Biquad{low_pass_section(corner, butterworth_q(k), rate)};
        return f;
    }
    static BiquadCascade high_pass(Hertz corner, SampleRate rate)
    {
        BiquadCascade f;
        for (std::size_t k = 0; k < Sections; ++k)
            f.sections_[k] = Biquad{high_pass_section(corner, butterworth_q(k), rate)};
        return f;
    }

    double push(double x) noexcept
    {
        for (Biquad& section : sections_) x = section.push(x);
        return x;
    }
    void reset() noexcept
    {
        for (Biquad& section : sections_) section.reset();
    }
    void flush() noexcept
    {
        for (Biquad& section : sections_) section.flush();
    }

private:
    static double butterworth_q(std::size_t k)
    {
        const double n = static_cast<double>(Sections);
        const double pole = static_cast<double>(2 * k + 1) * std::numbers::pi / (4.0 * n);
        return 1.0 / (2.0 * std::cos(pole));
    }

    std::array<Biquad, Sections> sections_{};
};

}  // namespace holdwell
