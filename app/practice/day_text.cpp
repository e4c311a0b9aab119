#include "app/practice/day_text.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

namespace holdwell {

namespace {

constexpr std::array kMonths{"January", "February", "March",     "April",   "May",      "June",
                             "July",    "August",   "September", "October", "November", "December"};

const char* month_name(Date day)
{
    const unsigned month = static_cast<unsigned>(day.month());
    return month >= 1 && month <= kMonths.size() ? kMonths[month - 1] : "?";
}

std::string day_number(Date day, Date day_one)
{
    return fmt::format("day {}", days_between(day_one, day).count() + 1);
}

}  // namespace

std::optional<Date> first_day_of(const ClientFile& file)
{
    std::optional<Date> first;
    for (const Practice& practice : file.practices) {
        if (!first || practice.begun.date < *first) first = practice.begun.date;
    }
    return first;
}

std::string day_text(Date day, const DayForm& form)
{
    if (form.day_one) return day_number(day, *form.day_one);
    return fmt::format("{} {} {}", static_cast<unsigned>(day.day()), month_name(day),
                       static_cast<int>(day.year()));
}

std::string short_day_text(Date day, const DayForm& form)
{
    if (form.day_one) return day_number(day, *form.day_one);
    return fmt::format("{} {:.3}", static_cast<unsigned>(day.day()), month_name(day));
}

}  // namespace holdwell
