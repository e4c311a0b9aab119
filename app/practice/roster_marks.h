#pragma once
// What a therapist looks for in a line of her list of clients: the same on the screen and at the
// command line.

#include "app/practice/records.h"

namespace holdwell {

// From 85 % of the goal on, below which the taper would go one step back (plan.h, keep_share).
inline constexpr double kNearGoalShare = 0.85;

// Not once in the last seven days, though practice is asked for.
inline bool has_not_practised(const RosterLine& line)
{
    return line.asked_a_week > 0 && line.practices_this_week == 0;
}
// The week's mean hold stands at kNearGoalShare of the goal or above; reached: at the goal.
inline bool is_near_goal(const RosterLine& line)
{
    return line.goal_share && *line.goal_share >= kNearGoalShare;
}
inline bool has_reached_goal(const RosterLine& line)
{
    return line.goal_share && *line.goal_share >= 1.0;
}

}  // namespace holdwell
