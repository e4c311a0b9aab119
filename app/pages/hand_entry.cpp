#include "app/pages/hand_entry.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "app/pages/page_words.h"
#include "app/practice/drill_words.h"

namespace holdwell {
namespace {

// Seconds; the longest is the longest goal there is (plan.h).
constexpr double kShortestNoted = 0.1;
constexpr double kLongestNoted = 120.0;
constexpr double kMostBreaks = 20.0;  // of one glide

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

// Numbers apart by blanks, commas followed by a blank, or semicolons; nothing when one is none, or
// not between the limits.
struct TypedLimits {
    double lowest;
    double highest;
};
std::optional<std::vector<double>> numbers_typed(const std::string& typed,
                                                 const TypedLimits& limits)
{
    std::vector<double> numbers;
    std::string part;
    const auto take = [&] {
        if (!part.empty() && part.back() == ',') part.pop_back();
        if (part.empty()) return true;
        const auto number = number_typed(part);
        part.clear();
        if (!number || *number < limits.lowest || *number > limits.highest) return false;
        numbers.push_back(*number);
        return true;
    };
    for (const char c : typed) {
        if (c != ' ' && c != ';')
            part += c;
        else if (!take())
            return {};
    }
    if (!take()) return {};
    return numbers;
}

std::optional<std::vector<double>> seconds_typed(const std::string& typed)
{
    return numbers_typed(typed, {kShortestNoted, kLongestNoted});
}

std::optional<std::vector<int>> breaks_typed(const std::string& typed)
{
    const auto numbers = numbers_typed(typed, {0.0, kMostBreaks});
    if (!numbers) return {};
    std::vector<int> breaks;
    for (const double number : *numbers) {
        if (number != std::floor(number)) return {};
        breaks.push_back(static_cast<int>(number));
    }
    return breaks;
}

Measures timed_measures(DrillKind kind, Seconds length)
{
    if (kind == DrillKind::s_hold || kind == DrillKind::z_hold)
        return SibilantMeasures{.length = length};
    return HoldMeasures{.hold_time = length};
}

// Not timed, so that it is counted nowhere.
Measures glide_measures(DrillKind kind, int breaks)
{
    GlideMeasures glide;
    glide.direction = kind == DrillKind::rising_glide ? GlideDirection::up : GlideDirection::down;
    glide.jumps = breaks;
    return glide;
}

std::vector<Measures> measures_in(const HandEntryLine& line)
{
    std::vector<Measures> measures;
    if (is_glide(line.kind)) {
        const auto breaks = breaks_typed(line.typed).value_or(std::vector<int>{});
        for (std::size_t i = 0; i < static_cast<std::size_t>(line.glides); ++i)
            measures.push_back(glide_measures(line.kind, i < breaks.size() ? breaks[i] : 0));
        return measures;
    }
    for (const double seconds : seconds_typed(line.typed).value_or(std::vector<double>{}))
        measures.push_back(timed_measures(line.kind, Seconds{seconds}));
    return measures;
}

Trial trial_of(const HandEntryLine& line, Measures measures, const Plan& plan)
{
    Trial trial;
    trial.kind = line.kind;
    trial.target = line.note;
    trial.band = plan.band;
    if (plan.goal && line.note) trial.goal = plan.goal->hold;
    trial.measures = std::move(measures);
    return trial;
}

bool is_noted(const HandEntry& entry, const Drill& drill, std::optional<Note> note)
{
    return std::ranges::any_of(entry.lines, [&](const HandEntryLine& line) {
        return line.kind == drill.kind && line.note == note;
    });
}

}  // namespace

HandEntry blank_entry(const Plan& plan, Date today)
{
    HandEntry entry{.day = typed_form_of(today), .time = "12:00"};
    for (const PlannedTrial& trial : trials_of(plan)) {
        const Drill& drill = trial.drill;
        const auto note = has_target(drill.kind) ? std::optional{drill.target} : std::nullopt;
        if (!is_noted(entry, drill, note))
            entry.lines.push_back({.kind = drill.kind, .note = note});
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
    if (!is_glide(line.kind))
        return seconds_typed(line.typed) ? ""
                                         : "Seconds between 0.1 and 120, apart by blanks: 12.5 14.";
    const auto breaks = breaks_typed(line.typed);
    if (!breaks) return "Whole numbers up to 20, apart by blanks: 0 2.";
    if (breaks->size() > static_cast<std::size_t>(line.glides))
        return "More numbers than glides that were done.";
    return {};
}

std::string fault_of_ratings(const HandEntry& entry)
{
    if (entry.effort.has_value() == entry.discomfort.has_value()) return {};
    return "Effort and discomfort are kept together: give both, or neither.";
}

bool is_sound(const HandEntry& entry, Date today)
{
    return fault_of_day(entry, today).empty() && fault_of_time(entry).empty() &&
           fault_of_ratings(entry).empty() &&
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
    if (entry.effort && entry.discomfort)
        practice.rating = SelfRating{*entry.effort, *entry.discomfort};
    practice.remark = entry.remark;
    for (const HandEntryLine& line : entry.lines) {
        int repetition = 0;
        for (Measures& measures : measures_in(line)) {
            Trial trial = trial_of(line, std::move(measures), plan);
            trial.repetition = ++repetition;
            trial.number = static_cast<int>(practice.trials.size()) + 1;
            practice.trials.push_back(std::move(trial));
        }
    }
    return practice;
}

}  // namespace holdwell
