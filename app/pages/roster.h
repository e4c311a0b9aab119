#pragma once
// What a therapist looks for in her list of clients, as pure functions of its lines.

#include <string>
#include <vector>

#include "app/practice/records.h"
#include "app/practice/roster_marks.h"

namespace holdwell {

enum class RosterShow { active, not_practised, near_goal, discomfort, archived };
enum class RosterOrder { by_code, longest_away, nearest_goal, discomfort_first };

struct RosterChoice {
    std::string find{};  // part of a code, capital or not, accented or not; empty: all
    RosterShow show{RosterShow::active};
    RosterOrder order{RosterOrder::by_code};
    bool operator==(const RosterChoice&) const = default;
};

// The lines chosen, in the order chosen; equal ones by code.
std::vector<RosterLine> roster_shown(const std::vector<RosterLine>& lines,
                                     const RosterChoice& choice);
int count_of(const std::vector<RosterLine>& lines, RosterShow show);

std::string show_said(RosterShow show);     // "near the goal"
std::string order_said(RosterOrder order);  // "longest away first"
// "discomfort, near goal": what to look at; empty when there is nothing.
std::string marks_said(const RosterLine& line);
// "12 active clients. 3 have not practised for seven days; 1 reported discomfort."
std::string roster_summary(const std::vector<RosterLine>& lines);

}  // namespace holdwell
