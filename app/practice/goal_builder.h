#pragma once
// A goal that can be measured, built from its parts: its sentence for the chart, and whether the
// record meets it. The therapist sets it; nothing here changes a plan.

#include <optional>
#include <string>
#include <vector>

#include "app/practice/day_text.h"
#include "app/practice/measurable_goal.h"
#include "app/practice/plan.h"
#include "app/practice/progress.h"

namespace holdwell {

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

// How the record stands to a goal that was set: read from the day it was set to the day it was
// withdrawn, or to `today`.
GoalRecord record_of(const ClientGoal& goal, const ClientFile& file, Date today);
// "Set 3 March 2026; met on 14 March 2026." or "Set 3 March 2026; withdrawn 20 March 2026." In that
// order; not met, not withdrawn: "Set 3 March 2026." When its day is over and it was not met, that
// is said too.
std::string history_of(const ClientGoal& goal, const GoalRecord& record, Date today,
                       const DayForm& days = {});

}  // namespace holdwell
