#pragma once
// How days are written in what leaves the program. Dates identify a person; days counted from her
// first practice (day 1) do not.

#include <optional>
#include <string>

#include "app/practice/identity.h"
#include "app/practice/records.h"

namespace holdwell {

// Day 1 when days are to be numbered; absent: dates.
struct DayForm {
    std::optional<Date> day_one{};
    bool operator==(const DayForm&) const = default;
};

// The first day on which she practised; absent without a practice.
std::optional<Date> first_day_of(const ClientFile& file);

// "3 March 2026", or "day 15". The day before day 1 is day 0, as there is a day 1 to count from.
std::string day_text(Date day, const DayForm& form);
// "3 Mar", or "day 15": where there is little room.
std::string short_day_text(Date day, const DayForm& form);

}  // namespace holdwell
