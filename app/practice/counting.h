#pragma once
// What counts as practised, and which time counts towards a goal: one rule for progress, roster,
// taper and report, so that no two pages say different things of the same record.

#include <chrono>
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

// Begun and left before the first trial was kept, by a client who said nothing of how she was: no
// practice, and no missed one either. Nothing of it is to be kept. An answer beforehand that spoke
// against it, discomfort, or a word to the therapist is something; so is what was entered by hand.
bool leaves_no_trace(const Practice& practice);

// How long after its beginning a practice that was cut off can be gone on with, past midnight too.
// Chosen by us: a telephone call and a meal; what is sung after that is another practice.
inline constexpr std::chrono::hours kLongestGap{4};
// Left open, with a trial kept, and begun today or not so long ago.
bool can_be_gone_on_with(const Practice& practice, const Moment& now);
// May still be under way, in another window too.
bool was_begun_lately(const Practice& practice, const Moment& now);

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
