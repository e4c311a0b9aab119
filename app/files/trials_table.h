#pragma once
// All trials of a client as CSV (RFC 4180, UTF-8): one row a trial, practices in order, for a
// spreadsheet or a statistics program. Unknown values are empty, never 0; units stand in the names
// of the columns. A practice without trials has one row of its own, with no trial number.

#include <string>

#include "app/practice/day_text.h"
#include "app/practice/records.h"

namespace holdwell {

// Lines end with CR LF as RFC 4180 has it. With a day one, days are numbers and there is no date.
std::string trials_table(const ClientFile& file, const DayForm& days = {});

}  // namespace holdwell
