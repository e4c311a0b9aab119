#pragma once
// A goal that can be measured, built from its parts: its sentence for the chart, and whether the
// record meets it. The therapist sets it; nothing here changes a plan.

#include <optional>
#include <string>
#include <vector>

#include "app/practice/day_text.h"
#include "app/practice/plan.h"
#include "app/practice/progress.h"

namespace holdwell {

enum class OnsetAsked { any, easy };
enum class Cueing { independently, with_cue };

struct MeasurableGoal {
    DrillKind kind{DrillKind::ladder_hold};  // warm-up hold or ladder hold
    Note note{kF4};
    std::string sound{};  // "/o/"; up to 40 letters; empty: "the practice sound"
    Cents band{100.0};    // 10 .. 300, to each side
    Seconds hold{10.0};   // 1 .. 120 s, inside the band
    OnsetAsked onset{OnsetAsked::any};
    int met{3};     // 1 .. trials
    int trials{4};  // 1 .. 20, of one day
    int days{3};    // 1 .. 30, consecutive days on which it is practised
    Cueing cueing{Cueing::independently};
    std::optional<Date> by{};
    bool operator==(const MeasurableGoal&) const = default;
};
// The goal a therapist would begin from: the plan's first ladder note, band and goal.
MeasurableGoal usual_goal(const Plan& plan, Date today);
std::vector<Fault> faults_of(const MeasurableGoal& goal);

// "Client C-104 will sustain /o/ at F4 (± 100 cents) for at least 12 s with an easy onset in 3 of 4
// trials on 3 consecutive practice days, independently, by 14 May 2026."
std::string sentence_of(const MeasurableGoal& goal, const std::string& who,
                        const DayForm& days = {});

// How the record stands to it. A trial meets it when its time in band reaches the hold (and its
// onset is named easy, where asked); a day, when `met` of its trials do and they are met/trials of
// them at least. Only counted trials at that note are read, and only those whose band was no wider.
struct GoalRecord {
    int days_read{0};  // days with such trials
    int trials_read{0};
    int trials_met{0};
    int longest_run{0};            // consecutive practice days that meet it
    int present_run{0};            // up to the last one
    std::optional<Date> met_on{};  // the last day of the first run that is long enough
    std::string sentence{};        // the same in words
    bool operator==(const GoalRecord&) const = default;
};
GoalRecord record_of(const MeasurableGoal& goal, const ClientFile& file, const Period& period);

}  // namespace holdwell
