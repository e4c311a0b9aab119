#pragma once
// Two numbers in one register: what is done twice in the same way is done in the time of once, and
// each of the two is, bit by bit, what it would be alone.

#include <cmath>

namespace holdwell {

using Two = double __attribute__((vector_size(2 * sizeof(double))));

inline double root(double x) noexcept { return std::sqrt(x); }
inline Two root(Two x) noexcept { return Two{std::sqrt(x[0]), std::sqrt(x[1])}; }

// Of both, where there are two.
inline bool is_above(double x, double limit) noexcept { return x > limit; }
inline bool is_above(Two x, double limit) noexcept { return x[0] > limit && x[1] > limit; }

}  // namespace holdwell
