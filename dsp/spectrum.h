#pragma once
// Real Fourier transform of a fixed length, by aubio: the one place that touches its FFT. The only
// other file of ours that includes aubio is a_weighting.cpp, for its filters.

#include <cstddef>
#include <memory>
#include <span>

namespace holdwell {

// In:    `size` real samples, size a power of two.
// Out:   half-complex spectrum of `size` values in aubio's order:
//        re[0], re[1], .., re[size/2], im[size/2 - 1], .., im[1]; not scaled.
class RealFft {
public:
    explicit RealFft(std::size_t size);
    ~RealFft();
    RealFft(RealFft&&) noexcept;
    RealFft& operator=(RealFft&&) noexcept;

    std::size_t size() const noexcept;
    // Both spans hold size() values and may not overlap. Allocates nothing.
    void forward(std::span<const float> x, std::span<float> half_complex) noexcept;

private:
    struct Plan;
    std::unique_ptr<Plan> plan_;
};

// re^2 + im^2 of bin k, 0 .. size/2.
inline float power_of_bin(std::span<const float> half_complex, std::size_t k) noexcept
{
    const std::size_t n = half_complex.size();
    const float re = half_complex[k];
    const float im = (k == 0 || k == n / 2) ? 0.0f : half_complex[n - k];
    return re * re + im * im;
}

}  // namespace holdwell
