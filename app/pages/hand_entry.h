#pragma once
// A practice that was noted on paper, as values: what was typed, and the practice it makes. Every
// kind of drill in the plan can be noted: seconds of a hold, of an /s/ or a /z/; that a glide was
// done, and the breaks heard in it.

#include <string>
#include <vector>

#include "app/practice/plan.h"
#include "app/practice/records.h"

namespace holdwell {

// One drill of the plan, at one note.
struct HandEntryLine {
    DrillKind kind{DrillKind::warm_up_hold};
    std::optional<Note> note{};  // of a hold
    // Seconds, one number for each trial: "12.5, 14". Of a glide: the breaks heard in each.
    std::string typed{};
    int glides{0};  // that were done, 0 .. kMostGlides; of a glide only
};
inline constexpr int kMostGlides = 10;  // as many as a plan may ask for

struct HandEntry {
    std::string day{};   // "2026-03-28"
    std::string time{};  // "08:10"
    Completion completion{Completion::complete};
    std::vector<HandEntryLine> lines{};
    std::optional<int> effort{};
    std::optional<int> discomfort{};
    std::string remark{};
};
// The drills that the plan asks for, with nothing noted; today, at noon.
HandEntry blank_entry(const Plan& plan, Date today);

// One sentence each; none: practice_of() can be had.
std::string fault_of_day(const HandEntry& entry, Date today);
std::string fault_of_time(const HandEntry& entry);
std::string fault_of_line(const HandEntryLine& line);
std::string fault_of_ratings(const HandEntry& entry);  // both, or neither
bool is_sound(const HandEntry& entry, Date today);

// With its trials, none of which has more than was noted: a length, or the breaks of a glide. Ids
// are left to the records.
Practice practice_of(const HandEntry& entry, const Client& client, const Plan& plan);

}  // namespace holdwell
