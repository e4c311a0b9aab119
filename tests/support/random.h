#pragma once
// A seeded source of numbers that is the same on every platform and with every standard library.
//
// PCG-XSH-RR 64/32: M. O'Neill, "PCG: A family of simple fast space-efficient statistically good
// algorithms for random number generation", HMC-CS-2014-0905. Normal numbers: Box and Muller.

#include <cmath>
#include <cstdint>
#include <numbers>
#include <optional>

namespace holdwell::test {

class Random {
public:
    explicit Random(std::uint64_t seed)
        : state_{seed * 0x9e3779b97f4a7c15ULL + 0x853c49e6748fea9bULL}
    {
        next();  // neighbouring seeds begin far apart
        next();
    }

    std::uint32_t next()
    {
        const std::uint64_t old = state_;
        state_ = old * 6364136223846793005ULL + 1442695040888963407ULL;
        const auto shifted = static_cast<std::uint32_t>(((old >> 18U) ^ old) >> 27U);
        const auto turn = static_cast<std::uint32_t>(old >> 59U);
        return (shifted >> turn) | (shifted << ((32U - turn) & 31U));
    }

    double uniform(double low, double high)
    {
        return low + (high - low) * (static_cast<double>(next()) + 0.5) / 4294967296.0;
    }

    // 0 .. count - 1
    int below(int count) { return static_cast<int>(uniform(0.0, static_cast<double>(count))); }

    // Mean 0, variance 1.
    double normal()
    {
        if (spare_) {
            const double second = *spare_;
            spare_.reset();
            return second;
        }
        const double radius = std::sqrt(-2.0 * std::log(uniform(0.0, 1.0)));
        const double angle = uniform(0.0, 2.0 * std::numbers::pi);
        spare_ = radius * std::sin(angle);
        return radius * std::cos(angle);
    }

private:
    std::uint64_t state_;
    std::optional<double> spare_;
};

}  // namespace holdwell::test
