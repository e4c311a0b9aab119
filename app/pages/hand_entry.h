#pragma once
// A practice that was noted on paper, as values: what was typed, and the practice it makes.

#include <string>
#include <vector>

#include "app/practice/plan.h"
#include "app/practice/records.h"

namespace holdwell {

// One hold of the plan, with the seconds typed for it: "12.5, 14", one number for each trial.
struct HandEntryLine {
    DrillKind kind{DrillKind::warm_up_hold};
    std::optional<Note> note{};
    std::string typed{};
};
struct HandEntry {
    std::string day{};   // "2026-03-28"
    std::string time{};  // "08:10"
    Completion completion{Completion::complete};
    std::vector<HandEntryLine> lines{};
    std::optional<SelfRating> rating{};
    std::string remark{};
};
// The holds that the plan asks for, with nothing typed; today, at noon.
HandEntry blank_entry(const Plan& plan, Date today);

// One sentence each; none: practice_of() can be had.
std::string fault_of_day(const HandEntry& entry, Date today);
std::string fault_of_time(const HandEntry& entry);
std::string fault_of_line(const HandEntryLine& line);
bool is_sound(const HandEntry& entry, Date today);

// With its trials, none of which has more than a length; ids are left to the records.
Practice practice_of(const HandEntry& entry, const Client& client, const Plan& plan);

}  // namespace holdwell
