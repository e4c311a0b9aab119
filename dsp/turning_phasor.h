#pragma once
// Cosines and sines of a polynomial phase, without a call of cos or sin per sample.

#include <array>
#include <complex>
#include <cstddef>
#include <span>

namespace holdwell {

// std::complex's operator* looks for infinities, which cannot occur here.
inline std::complex<double> turned(std::complex<double> a, std::complex<double> by) noexcept
{
    return {a.real() * by.real() - a.imag() * by.imag(),
            a.real() * by.imag() + a.imag() * by.real()};
}

// A unit phasor that turns by `step` a sample.
struct TurningPhasor {
    std::complex<double> at;
    std::complex<double> step;

    void advance() noexcept { at = turned(at, step); }
};

// Cosines and sines of first, first + step, ..; both spans are of the same length, a multiple of 8.
// Eight phasors take turns: none waits for its own last step.
inline void fill_turning(double first, double step, std::span<float> c, std::span<float> s) noexcept
{
    constexpr std::size_t kTurns = 8;
    std::array<double, kTurns> re;
    std::array<double, kTurns> im;
    TurningPhasor phasor{.at = std::polar(1.0, first), .step = std::polar(1.0, step)};
    for (std::size_t j = 0; j < kTurns; ++j) {
        re[j] = phasor.at.real();
        im[j] = phasor.at.imag();
        phasor.advance();
    }
    const std::complex<double> leap = std::polar(1.0, static_cast<double>(kTurns) * step);
    for (std::size_t i = 0; i < c.size(); i += kTurns) {
        for (std::size_t j = 0; j < kTurns; ++j) {
            c[i + j] = static_cast<float>(re[j]);
            s[i + j] = static_cast<float>(im[j]);
            const double turned_re = re[j] * leap.real() - im[j] * leap.imag();
            im[j] = re[j] * leap.imag() + im[j] * leap.real();
            re[j] = turned_re;
        }
    }
}

// A unit phasor whose phase is a polynomial of the sample's number: it turns by a step, which turns
// by a step of its own, and so on.
template <std::size_t kDegree>
class BendingPhasor {
public:
    // The phases of the first kDegree + 1 samples, radians.
    explicit BendingPhasor(std::array<double, kDegree + 1> phase) noexcept
    {
        for (std::size_t order = 0; order <= kDegree; ++order) {
            differences_[order] = std::polar(1.0, phase[0]);
            for (std::size_t i = 0; i + order < kDegree; ++i) phase[i] = phase[i + 1] - phase[i];
        }
    }

    std::complex<double> at() const noexcept { return differences_[0]; }
    void advance() noexcept
    {
        for (std::size_t order = 0; order < kDegree; ++order) {
            differences_[order] = turned(differences_[order], differences_[order + 1]);
        }
    }

private:
    std::array<std::complex<double>, kDegree + 1> differences_;
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
