#pragma once
// The words at the end of a practice, for the client: kind, honest, without a grade and without a
// word on what was missed.

#include <string>
#include <vector>

#include "app/practice/records.h"

namespace holdwell {

// One to six sentences, each a line of its own: what was done, goals met, longest yet, time in
// band, breaks fewer than the week before. `file` is the record up to now; whether the practice
// stands in it already makes no difference.
std::vector<std::string> words_after(const ClientFile& file, const Practice& practice);

}  // namespace holdwell
