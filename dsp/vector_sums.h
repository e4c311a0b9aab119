#pragma once
// The inner loops of the chain, over arrays padded to a multiple of eight.
//
// Without -ffast-math a compiler may not reorder a sum; eight separate lanes let it use vector
// registers and fix the order at the same time, so that every machine gets the same bits.

#include <array>
#include <cstddef>

namespace holdwell {

inline constexpr std::size_t kLanes = 8;

constexpr std::size_t padded(std::size_t n) { return (n + kLanes - 1) / kLanes * kLanes; }

// A sum of products that comes in pieces.
struct LaneSum {
    std::array<float, kLanes> lane{};

    // += sum of a[i] * b[i], i < n; n is a multiple of kLanes.
    void add(const float* a, const float* b, std::size_t n) noexcept
    {
        std::array<float, kLanes> sum{};
        for (std::size_t i = 0; i < n; i += kLanes) {
            for (std::size_t j = 0; j < kLanes; ++j) sum[j] += a[i + j] * b[i + j];
        }
        for (std::size_t j = 0; j < kLanes; ++j) lane[j] += sum[j];
    }
    double total() const noexcept
    {
        return static_cast<double>((lane[0] + lane[4]) + (lane[1] + lane[5])) +
               static_cast<double>((lane[2] + lane[6]) + (lane[3] + lane[7]));
    }
};

// sum of a[i] * b[i], i < n; n is a multiple of kLanes.
inline double dot(const float* a, const float* b, std::size_t n) noexcept
{
    LaneSum sum;
    sum.add(a, b, n);
    return sum.total();
}

// y[i] += g * x[i], i < n.
inline void add_scaled(float* y, const float* x, float g, std::size_t n) noexcept
{
    for (std::size_t i = 0; i < n; ++i) y[i] += g * x[i];
}

}  // namespace holdwell
