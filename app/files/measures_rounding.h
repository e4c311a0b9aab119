#pragma once
// How many decimals values are written with, and how they are rounded: one rule for JSON and CSV,
// so that the two never differ. Finer than anyone can hear or measure.

namespace holdwell {

inline constexpr int kSecondsDecimals = 3;
inline constexpr int kMsDecimals = 1;
inline constexpr int kHertzDecimals = 4;  // 0.003 cents at 60 Hz
inline constexpr int kCentsDecimals = 2;
inline constexpr int kSemitonesDecimals = 3;
inline constexpr int kDecibelsDecimals = 1;
inline constexpr int kPercentDecimals = 3;

// Halves go away from zero, as people round; never "-0.0". `value` is finite.
double rounded(double value, int decimals);

}  // namespace holdwell
