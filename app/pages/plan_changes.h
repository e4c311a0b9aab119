#pragma once
// What is different for the client between two revisions of a plan, said before it is saved.

#include <string>
#include <vector>

#include "app/practice/plan.h"

namespace holdwell {

struct PlanChange {
    std::string what;    // "Practices a day"
    std::string before;  // "2"
    std::string after;   // "3"
    bool operator==(const PlanChange&) const = default;
};
// In the order of the plan page; empty when the client would notice nothing.
std::vector<PlanChange> changes_between(const Plan& before, const Plan& after);
// "Practices a day: 2, then 3."
std::string change_said(const PlanChange& change);

// "warm-up hold twice and rising glide once"; "none".
std::string drills_in_words(const std::vector<PlannedDrill>& drills);
// The first two of them, "and 3 more".
std::string drills_in_brief(const std::vector<PlannedDrill>& drills);
std::string counts_said(HoldCounts counts);
std::string keeps_said(const Plan& plan);

}  // namespace holdwell
