#pragma once
// Three years of one invented client: two practices a day, eighteen trials each, drawn from a seed.
// Every column of a trial that may be filled is filled, so that the file is as large as it gets.

#include <cstdint>

#include "app/practice/additions.h"

namespace holdwell::bench {

inline constexpr int kDays = 3 * 365;
inline constexpr int kPracticesADay = 2;
inline constexpr int kTrialsAPractice = 18;
inline constexpr int kTrialsAClient = kDays * kPracticesADay * kTrialsAPractice;
inline constexpr Date kLastDay{std::chrono::year{2026}, std::chrono::November,
                               std::chrono::day{25}};

// Up to and with kLastDay.
Additions three_years_of(int client);
// One more for a practice of hers: the last but not least.
Trial one_more_trial(std::uint64_t seed);

}  // namespace holdwell::bench
