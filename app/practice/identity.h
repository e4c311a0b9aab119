#pragma once
// What tells records apart, and when they were made.

#include <chrono>
#include <compare>
#include <cstdint>
#include <string>

namespace holdwell {

// 128 random bits as 32 lower-case hexadecimal digits: the same record keeps its id on every
// computer it travels to, so that a merge never takes one for two. Empty: none.
struct Id {
    std::string text;
    auto operator<=>(const Id&) const = default;
};

// A day of the client's own calendar.
using Date = std::chrono::year_month_day;

// Wall-clock time of that day, to the minute.
struct ClockTime {
    std::chrono::minutes since_midnight{0};  // 0 .. 1439
    auto operator<=>(const ClockTime&) const = default;
};

// Wall-clock time is stored with a practice and used for nothing that is measured.
struct Moment {
    Date date{};
    ClockTime time{};
    auto operator<=>(const Moment&) const = default;
};

constexpr std::chrono::days days_between(Date earlier, Date later)
{
    return std::chrono::sys_days{later} - std::chrono::sys_days{earlier};
}

constexpr Date day_after(Date date, std::chrono::days days)
{
    return Date{std::chrono::sys_days{date} + days};
}

}  // namespace holdwell
