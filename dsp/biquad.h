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

#include "dsp/two.h"
#include "dsp/units.h"

namespace holdwell {

inline constexpr double kInaudible = 1e-30;  // of a filter's memory

struct BiquadCoefficients {
    double b0{1.0}, b1{0.0}, b2{0.0};
    double a1{0.0}, a2{0.0};
};

class Biquad {
public:
    constexpr Biquad() = default;
    constexpr explicit Biquad(const BiquadCoefficients& c) : c_{c} {}
    constexpr const BiquadCoefficients& coefficients() const { return c_; }

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
        if (std::abs(s1_) < kInaudible) s1_ = 0.0;
        if (std::abs(s2_) < kInaudible) s2_ = 0.0;
    }

private:
    BiquadCoefficients c_{};
    double s1_{0.0}, s2_{0.0};
};

// Two sections side by side, in the time of one; each gives what Biquad gives, bit by bit.
class BiquadPair {
public:
    BiquadPair() : BiquadPair{Biquad{}, Biquad{}} {}
    BiquadPair(const Biquad& first, const Biquad& second)
        : BiquadPair{first.coefficients(), second.coefficients()}
    {
    }

    Two push(Two x) noexcept
    {
        const Two y = b0_ * x + s1_;
        s1_ = b1_ * x - a1_ * y + s2_;
        s2_ = b2_ * x - a2_ * y;
        return y;
    }
    void reset() noexcept { s1_ = s2_ = Two{}; }
    void flush() noexcept
    {
        for (Two* state : {&s1_, &s2_}) {
            for (int i = 0; i < 2; ++i) {
                if (std::abs((*state)[i]) < kInaudible) (*state)[i] = 0.0;
            }
        }
    }

private:
    BiquadPair(const BiquadCoefficients& f, const BiquadCoefficients& s)
        : b0_{f.b0, s.b0}, b1_{f.b1, s.b1}, b2_{f.b2, s.b2}, a1_{f.a1, s.a1}, a2_{f.a2, s.a2}
    {
    }

    Two b0_, b1_, b2_, a1_, a2_;
    Two s1_{}, s2_{};
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

    // The k-th section, k < Sections.
    const Biquad& section(std::size_t k) const { return sections_[k]; }

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
