#pragma once
// The inner loops of the chain, over arrays padded to a multiple of eight.
//
// Without -ffast-math a compiler may not reorder a sum; eight separate lanes let it use vector
// registers and fix the order at the same time, so that every machine gets the same bits.

#include <array>
#include <cstddef>
#include <span>

// Before a function of such loops: it is compiled for registers of eight floats as well, and the
// program takes what the processor has. Eight lanes either way, without fused multiply-adds: the
// same bits. Sanitizers and the start of a program do not bear each other's choices here.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) &&                             \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define HOLDWELL_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define HOLDWELL_WIDE
#endif

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

// Mean of x[i]^2; 0 of nothing.
inline double mean_square(std::span<const float> x) noexcept
{
    double sum = 0.0;
    for (const float v : x) sum += static_cast<double>(v) * static_cast<double>(v);
    return x.empty() ? 0.0 : sum / static_cast<double>(x.size());
}

// y[i] += g * x[i], i < n.
inline void add_scaled(float* y, const float* x, float g, std::size_t n) noexcept
{
    for (std::size_t i = 0; i < n; ++i) y[i] += g * x[i];
}

}  // namespace holdwell
