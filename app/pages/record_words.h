#pragma once
// What stands in a client's record beside her practices: goals that were set, and files that were
// written for others.

#include <string>
#include <vector>

#include "app/practice/records.h"

namespace holdwell {

// Its sentence; when it was set, met, withdrawn; how the record stands to it. A line each.
std::string set_goal_said(const ClientGoal& goal, const ClientFile& file, Date today);

// The last three, newest first, a line each, and how many there were before. Empty without any.
std::string handed_out_said(const std::vector<HandedOut>& files);

}  // namespace holdwell
