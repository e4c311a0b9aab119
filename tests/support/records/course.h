#pragma once
// The record of a client whose practice takes a plausible course: holds grow, breaks become fewer.
// Made from a seed, nobody real, nothing sung.

#include <cstdint>
#include <string>

#include "app/practice/records.h"

namespace holdwell::test {

struct Course {
    int days{56};
    int most_missed_in_ten{1};  // practices in ten, about
    std::string code{"C-104"};
    Date begins{std::chrono::year{2026}, std::chrono::March, std::chrono::day{2}};
    std::uint64_t seed{1};
};

// Twice a day: a warm-up hold, a rising and a falling glide, five notes, each twice; a baseline in
// session on the day before, ratings, a set-up change in the fourth week, some trials in doubt.
ClientFile record_of(const Course& course);

}  // namespace holdwell::test
