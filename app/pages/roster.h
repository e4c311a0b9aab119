#pragma once
// What a therapist looks for in her list of clients, as pure functions of its lines.

#include <string>
#include <vector>

#include "app/practice/records.h"

namespace holdwell {

enum class RosterShow { active, not_practised, near_goal, discomfort, archived };
enum class RosterOrder { by_code, longest_away, nearest_goal, discomfort_first };

struct RosterChoice {
    std::string find{};  // part of a code, capital or not, accented or not; empty: all
    RosterShow show{RosterShow::active};
    RosterOrder order{RosterOrder::by_code};
    bool operator==(const RosterChoice&) const = default;
};

// From 85 % of the goal on, below which the taper would go one step back (plan.h, keep_share).
inline constexpr double kNearGoalShare = 0.85;

// Not once in the last seven days, though practice is asked for.
bool has_not_practised(const RosterLine& line);
// The week's mean hold stands at kNearGoalShare of the goal or above; reached: at the goal.
bool is_near_goal(const RosterLine& line);
bool has_reached_goal(const RosterLine& line);

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
