#pragma once
// What counts as practised, and which time counts towards a goal: one rule for progress, roster,
// taper and report, so that no two pages say different things of the same record.

#include <map>
#include <optional>
#include <span>

#include "app/practice/records.h"

namespace holdwell {

// ---- practices ---------------------------------------------------------------------------------

// What of a practice decides whether it counts.
struct PracticeFacts {
    PracticeKind kind{PracticeKind::at_home};
    Completion completion{Completion::under_way};
    int trials{0};
};
// At least one trial, or said so by hand, in whole or in part.
bool was_practised(const PracticeFacts& facts);
// The same, not in session, and not given up beforehand: what adherence counts as done.
bool is_done_at_home(const PracticeFacts& facts);

// ---- trials ------------------------------------------------------------------------------------

// Why a trial is not counted; none: it is.
enum class TrialMark { none, samples_lost, doubtful, not_measured };
TrialMark mark_of(const Trial& trial);

// Of a hold: all phonation, or in band only. Absent when it counts for nothing: samples were lost,
// the hold is in doubt, or nothing was measured of what counts.
std::optional<Seconds> time_towards_goal(const HoldMeasures& hold, HoldCounts counts);

// Holds at a note that count, and their time, under each way of counting.
struct HoldTotals {
    int holds{0};
    Seconds time{};
    int in_band_holds{0};
    Seconds in_band{};
};
HoldTotals hold_totals_of(std::span<const Trial> trials);

// ---- days --------------------------------------------------------------------------------------

// The mean of the days' means, so that a day with many trials weighs no more than another.
class MeanOfDays {
public:
    void add(Date day, Seconds sum, int count);
    void add(Date day, Seconds one) { add(day, one, 1); }
    int days() const { return static_cast<int>(days_.size()); }
    std::optional<Seconds> value() const;  // absent without days

private:
    struct Day {
        Seconds sum{};
        int count{0};
    };
    std::map<Date, Day> days_;
};

}  // namespace holdwell
