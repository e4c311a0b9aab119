#pragma once
// A day as files and the command line write it: 2026-03-09 (ISO 8601).

#include <optional>
#include <string>
#include <string_view>

#include "app/practice/identity.h"

namespace holdwell {

std::string day_as_written(Date day);
std::optional<Date> parse_day(std::string_view text);
std::string time_as_written(ClockTime time);  // "07:30"

}  // namespace holdwell
