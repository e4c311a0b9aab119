#include "app/pages/hand_entry.h"

#include <algorithm>

#include "app/pages/page_words.h"

namespace holdwell {
namespace {

constexpr double kLongestHold = 120.0;  // s; the longest goal there is (plan.h)

std::optional<ClockTime> time_typed(const std::string& text)
{
    const std::size_t colon = text.find(':');
    if (colon == std::string::npos) return {};
    const auto hours = number_typed(text.substr(0, colon));
    const auto minutes = number_typed(text.substr(colon + 1));
    if (!hours || !minutes || *hours >= 24.0 || *minutes >= 60.0) return {};
    return ClockTime{
        std::chrono::minutes{static_cast<int>(*hours) * 60 + static_cast<int>(*minutes)}};
}

// Numbers apart by blanks, commas followed by a blank, or semicolons; nothing when one is none.
std::optional<std::vector<Seconds>> lengths_typed(const std::string& typed)
{
    std::vector<Seconds> lengths;
    std::string part;
    const auto take = [&] {
        if (!part.empty() && part.back() == ',') part.pop_back();
        if (part.empty()) return true;
        const auto seconds = number_typed(part);
        part.clear();
        if (!seconds || *seconds <= 0.0 || *seconds > kLongestHold) return false;
        lengths.emplace_back(*seconds);
        return true;
    };
    for (const char c : typed) {
        if (c != ' ' && c != ';')
            part += c;
        else if (!take())
            return {};
    }
    if (!take()) return {};
    return lengths;
}

Trial trial_of(const HandEntryLine& line, Seconds length, const Plan& plan)
{
    Trial trial;
    trial.kind = line.kind;
    trial.target = line.note;
    trial.band = plan.band;
    if (plan.goal) trial.goal = plan.goal->hold;
    HoldMeasures hold;
    hold.hold_time = length;
    trial.measures = hold;
    return trial;
}

}  // namespace

HandEntry blank_entry(const Plan& plan, Date today)
{
    HandEntry entry{.day = typed_form_of(today), .time = "12:00"};
    for (const PlannedTrial& trial : trials_of(plan)) {
        const bool is_hold = trial.drill.kind == DrillKind::warm_up_hold ||
                             trial.drill.kind == DrillKind::ladder_hold;
        if (is_hold && trial.repetition == 1)
            entry.lines.push_back({.kind = trial.drill.kind, .note = trial.drill.target});
    }
    return entry;
}

std::string fault_of_day(const HandEntry& entry, Date today)
{
    const auto day = date_typed(entry.day);
    if (!day) return "A day is typed as year-month-day: " + typed_form_of(today) + ".";
    if (*day > today) return "This day is still to come.";
    return {};
}

std::string fault_of_time(const HandEntry& entry)
{
    return time_typed(entry.time) ? "" : "A time is typed as hours and minutes: 08:10.";
}

std::string fault_of_line(const HandEntryLine& line)
{
    if (lengths_typed(line.typed)) return {};
    return "Seconds between 0 and 120, apart by blanks: 12.5 14.";
}

bool is_sound(const HandEntry& entry, Date today)
{
    return fault_of_day(entry, today).empty() && fault_of_time(entry).empty() &&
           std::ranges::all_of(
               entry.lines, [](const HandEntryLine& line) { return fault_of_line(line).empty(); });
}

Practice practice_of(const HandEntry& entry, const Client& client, const Plan& plan)
{
    Practice practice;
    practice.client = client.id;
    practice.plan = plan.id;
    practice.plan_revision = plan.revision;
    practice.taper_step = plan.taper_step;
    practice.kind = PracticeKind::entered_by_hand;
    practice.begun = {date_typed(entry.day).value_or(client.since),
                      time_typed(entry.time).value_or(ClockTime{})};
    practice.completion = entry.completion;
    practice.trials_asked = static_cast<int>(trials_of(plan).size());
    practice.rating = entry.rating;
    practice.remark = entry.remark;
    for (const HandEntryLine& line : entry.lines) {
        int repetition = 0;
        for (const Seconds length : lengths_typed(line.typed).value_or(std::vector<Seconds>{})) {
            Trial trial = trial_of(line, length, plan);
            trial.repetition = ++repetition;
            trial.number = static_cast<int>(practice.trials.size()) + 1;
            practice.trials.push_back(trial);
        }
    }
    return practice;
}

}  // namespace holdwell
