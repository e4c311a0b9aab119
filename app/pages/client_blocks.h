#pragma once
// Blocks that more than one of the client's pages shows.

#include <string>

#include "app/pages/page.h"
#include "app/practice/cautions.h"
#include "app/practice/progress.h"

namespace holdwell {

// The seven days of this week; what was done of them in the summary, never what was not.
DaysBlock week_block(const ClientReading& reading, Date today);

// ", 2 of them part of the way": what a half-filled ring says, in words. Empty when there is none.
std::string partly_said(const DaysBlock& days, int done);

// Its sentences as one paragraph.
std::string paragraph_of(const Advice& advice);

}  // namespace holdwell
