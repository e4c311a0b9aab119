#include "app/practice/drill_words.h"

#include <array>
#include <cmath>
#include <cstdio>

namespace holdwell {
namespace {

// Enough for any length of time in seconds.
std::string with_decimals(double value, int decimals)
{
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.*f", decimals, value);
    return text.data();
}

bool is_whole(double value) { return value == std::round(value); }

}  // namespace

std::string name_of(DrillKind kind)
{
    switch (kind) {
    case DrillKind::warm_up_hold:
        return "Warm-up hold";
    case DrillKind::ladder_hold:
        return "Ladder hold";
    case DrillKind::rising_glide:
        return "Rising glide";
    case DrillKind::falling_glide:
        return "Falling glide";
    case DrillKind::s_hold:
        return "/s/ hold";
    case DrillKind::z_hold:
        return "/z/ hold";
    }
    return {};
}

bool has_target(DrillKind kind)
{
    return kind == DrillKind::warm_up_hold || kind == DrillKind::ladder_hold;
}

bool is_glide(DrillKind kind)
{
    return kind == DrillKind::rising_glide || kind == DrillKind::falling_glide;
}

bool is_sibilant(DrillKind kind) { return kind == DrillKind::s_hold || kind == DrillKind::z_hold; }

Seconds rounded_to_tenth(Seconds s) { return Seconds{std::round(s.count() * 10.0) / 10.0}; }

std::string tenths(Seconds s) { return with_decimals(rounded_to_tenth(s).count(), 1); }

std::string seconds_in_words(Seconds s)
{
    const double value = rounded_to_tenth(s).count();
    if (value == 1.0) return "1 second";
    const int decimals = is_whole(value) && value >= 1.0 ? 0 : 1;
    return with_decimals(value, decimals) + " seconds";
}

std::string short_seconds(Seconds s)
{
    const double value = rounded_to_tenth(s).count();
    return with_decimals(value, is_whole(value) ? 0 : 1) + " s";
}

std::string count_in_words(int n)
{
    constexpr std::array kNames{"no",    "one",   "two",  "three", "four",   "five",  "six",
                                "seven", "eight", "nine", "ten",   "eleven", "twelve"};
    const auto i = static_cast<std::size_t>(n);
    return n >= 0 && i < kNames.size() ? kNames[i] : std::to_string(n);
}

std::string ordinal_in_words(int n)
{
    constexpr std::array kNames{"first",   "second", "third", "fourth", "fifth",    "sixth",
                                "seventh", "eighth", "ninth", "tenth",  "eleventh", "twelfth"};
    const auto i = static_cast<std::size_t>(n - 1);
    if (n >= 1 && i < kNames.size()) return kNames[i];
    const int last_two = n % 100;
    if (last_two >= 11 && last_two <= 13) return std::to_string(n) + "th";
    const std::array<const char*, 4> endings{"th", "st", "nd", "rd"};
    const auto last = static_cast<std::size_t>(n % 10);
    return std::to_string(n) + (last < endings.size() ? endings[last] : "th");
}

}  // namespace holdwell
