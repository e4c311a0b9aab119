#pragma once
// The objective paragraph of a chart note: counts, times, what was measured. No interpretation, no
// advice; assessment and plan are the therapist's to write.

#include <string>

#include "app/practice/day_text.h"
#include "app/practice/progress.h"

namespace holdwell {

// "98 practices done of 112 asked (88 %): 90 complete, 8 in part; 2 entered by hand; ..."
std::string adherence_in_words(const Adherence& adherence);

// One paragraph of plain text that begins with "O: ". `who` is the code, or a name typed for it.
std::string chart_note(const Progress& progress, const std::string& who, const DayForm& days = {});

}  // namespace holdwell
