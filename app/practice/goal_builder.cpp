#include "app/practice/goal_builder.h"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "app/practice/drill_words.h"
#include "app/practice/progress_parts.h"

namespace holdwell {

namespace {

constexpr std::size_t kLongestSound = 40;

void check(std::vector<Fault>& faults, std::string place, std::string sentence)
{
    faults.push_back({std::move(place), std::move(sentence)});
}

struct Counted {
    int trials{0};
    int met{0};
};

bool is_read(const MeasurableGoal& goal, const Practice& practice, const Trial& trial)
{
    const auto* hold = std::get_if<HoldMeasures>(&trial.measures);
    return practice.kind == PracticeKind::at_home && hold && mark_of(trial) == TrialMark::none &&
           trial.kind == goal.kind && trial.target == goal.note &&
           trial.band.value <= goal.band.value && hold->in_band;
}

bool meets(const MeasurableGoal& goal, const HoldMeasures& hold)
{
    // As it is read on the screens: to the tenth of a second.
    if (rounded_to_tenth(*hold.in_band) < goal.hold) return false;
    return goal.onset == OnsetAsked::any || hold.onset == OnsetClass::easy;
}

std::map<Date, Counted> count_by_day(const MeasurableGoal& goal, const ClientFile& file,
                                     const Period& period)
{
    std::map<Date, Counted> by_day;
    for (const Sitting& sitting : sittings_of(file)) {
        const Date day = sitting.practice->begun.date;
        if (day < period.from || day > period.to) continue;
        for (const Trial* trial : sitting.trials) {
            if (!is_read(goal, *sitting.practice, *trial)) continue;
            ++by_day[day].trials;
            by_day[day].met += meets(goal, std::get<HoldMeasures>(trial->measures)) ? 1 : 0;
        }
    }
    return by_day;
}

bool meets(const MeasurableGoal& goal, const Counted& day)
{
    return day.met >= goal.met && day.met * goal.trials >= goal.met * day.trials;
}

std::string times(int n, const char* what)
{
    return fmt::format("{} {}{}", n, what, n == 1 ? "" : "s");
}

std::string in_words(const GoalRecord& record, const MeasurableGoal& goal)
{
    if (record.trials_read == 0) {
        return fmt::format("No trial of this goal yet: {} at {}, judged within ± {:.0f} cents or "
                           "closer, at home.",
                           name_of(goal.kind), name_of(goal.note, Spelling::display),
                           goal.band.value);
    }
    return fmt::format("{}: {} of {} on {}; longest run {} in a row, {} asked.",
                       record.met_on ? "Met" : "Not yet met", record.trials_met,
                       times(record.trials_read, "trial"), times(record.days_read, "day"),
                       times(record.longest_run, "day"), goal.days);
}

}  // namespace

MeasurableGoal usual_goal(const Plan& plan, Date today)
{
    MeasurableGoal goal{.note = plan.voice.warm_up, .band = plan.band};
    const auto has_ladder = [](const PlannedDrill& d) { return d.kind == DrillKind::ladder_hold; };
    const bool ladder = std::ranges::any_of(plan.drills, has_ladder);
    if (ladder && !plan.voice.ladder.empty()) {
        goal.note = plan.voice.ladder.front();
    } else {
        goal.kind = DrillKind::warm_up_hold;
    }
    if (plan.goal) goal.hold = plan.goal->hold;
    goal.by = day_after(today, std::chrono::days{7 * plan.weeks});
    return goal;
}

std::vector<Fault> faults_of(const MeasurableGoal& goal)
{
    std::vector<Fault> faults;
    if (!has_target(goal.kind)) check(faults, "kind", "A goal is for a warm-up or a ladder hold.");
    if (goal.note.midi < 36 || goal.note.midi > 84)
        check(faults, "note", "The note may be C2 to C6.");
    if (goal.sound.size() > kLongestSound)
        check(faults, "sound", "The sound may have up to 40 letters.");
    if (!(goal.band.value >= 10.0 && goal.band.value <= 300.0))
        check(faults, "band", "The band may be 10 to 300 cents.");
    if (!(goal.hold >= Seconds{1.0} && goal.hold <= Seconds{120.0}))
        check(faults, "hold", "The hold may be 1 to 120 s.");
    if (goal.trials < 1 || goal.trials > 20)
        check(faults, "trials", "The trials of a day may be 1 to 20.");
    if (goal.met < 1 || goal.met > goal.trials)
        check(faults, "met", "The trials to be met may be 1 to the trials of a day.");
    if (goal.days < 1 || goal.days > 30) check(faults, "days", "The days may be 1 to 30.");
    return faults;
}

std::string sentence_of(const MeasurableGoal& goal, const std::string& who, const DayForm& days)
{
    std::string text = fmt::format(
        "{} will sustain {} at {} (± {:.0f} cents) for at least {}{} in {} of {} on {}, {}", who,
        goal.sound.empty() ? "the practice sound" : goal.sound,
        name_of(goal.note, Spelling::display), goal.band.value, short_seconds(goal.hold),
        goal.onset == OnsetAsked::easy ? " with an easy onset" : "", goal.met,
        times(goal.trials, "trial"), times(goal.days, "consecutive practice day"),
        goal.cueing == Cueing::independently ? "independently" : "with a cue");
    if (goal.by) text += ", by " + day_text(*goal.by, days);
    return text + ".";
}

GoalRecord record_of(const MeasurableGoal& goal, const ClientFile& file, const Period& period)
{
    GoalRecord record;
    for (const auto& [day, counted] : count_by_day(goal, file, period)) {
        ++record.days_read;
        record.trials_read += counted.trials;
        record.trials_met += counted.met;
        record.present_run = meets(goal, counted) ? record.present_run + 1 : 0;
        record.longest_run = std::max(record.longest_run, record.present_run);
        if (record.present_run >= goal.days && !record.met_on) record.met_on = day;
    }
    record.sentence = in_words(record, goal);
    return record;
}

GoalRecord record_of(const ClientGoal& goal, const ClientFile& file, Date today)
{
    const Date last = std::min(goal.withdrawn_on.value_or(today), today);
    return record_of(goal.goal, file, Period{goal.set_on, last, today});
}

std::string history_of(const ClientGoal& goal, const GoalRecord& record, Date today,
                       const DayForm& days)
{
    std::string text = fmt::format("Set {}", day_text(goal.set_on, days));
    if (record.met_on) text += fmt::format("; met on {}", day_text(*record.met_on, days));
    if (goal.withdrawn_on)
        text += fmt::format("; withdrawn {}", day_text(*goal.withdrawn_on, days));
    else if (!record.met_on && goal.goal.by && *goal.goal.by < today)
        text += fmt::format("; not met by {}", day_text(*goal.goal.by, days));
    return text + ".";
}

}  // namespace holdwell
