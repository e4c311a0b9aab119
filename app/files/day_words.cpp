#include "app/files/day_words.h"

#include "app/files/field_visitors.h"

namespace holdwell {

std::string day_as_written(Date day) { return text_of(day); }
std::optional<Date> parse_day(std::string_view text) { return parse_date(text); }
std::string time_as_written(ClockTime time) { return clock_text(time); }

}  // namespace holdwell
