#pragma once
// A unit phasor that turns by `step` a sample, and whose step itself turns by `step_step`: cosines
// and sines of a linear or quadratic phase, without a call of cos or sin per sample.

#include <complex>
#include <cstddef>

namespace holdwell {

struct TurningPhasor {
    std::complex<double> at;
    std::complex<double> step;
    std::complex<double> step_step{1.0, 0.0};

    void advance() noexcept
    {
        at = product(at, step);
        step = product(step, step_step);
    }

    // std::complex's operator* looks for infinities, which cannot occur here.
    static std::complex<double> product(std::complex<double> a, std::complex<double> b) noexcept
    {
        return {a.real() * b.real() - a.imag() * b.imag(),
                a.real() * b.imag() + a.imag() * b.real()};
    }
};

// Chebyshev's recurrence: row k of cos(k u) or sin(k u), given 2 cos(u); rows k-1 and k-2 lie
// `stride` and twice that before it.
inline void multiple(float* row, const float* twice_cos, std::size_t stride, std::size_t n) noexcept
{
    const float* last = row - stride;
    const float* before = last - stride;
    for (std::size_t i = 0; i < n; ++i) row[i] = twice_cos[i] * last[i] - before[i];
}

// The same in place: turns row k-2 (in `row`) into row k of cos(k u) or sin(k u), given
// 2 cos(u) and row k-1.
inline void next_multiple(float* row, const float* twice_cos, const float* last,
                          std::size_t n) noexcept
{
    for (std::size_t i = 0; i < n; ++i) row[i] = twice_cos[i] * last[i] - row[i];
}

}  // namespace holdwell
