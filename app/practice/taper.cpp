#include "app/practice/taper.h"
#include "app/practice/counting.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

#include "app/practice/drill_words.h"

namespace holdwell {
namespace {

constexpr int kDaysForShare = 3;  // of a week; fewer where the step asks for fewer
constexpr std::chrono::days kWeek{7};

// ---- what is asked, and what was done on a day -------------------------------------------------

using Hold = std::pair<DrillKind, Note>;

std::vector<Hold> holds_asked(const Plan& plan)
{
    std::vector<Hold> asked;
    for (const PlannedTrial& trial : trials_of(plan)) {
        const Hold hold{trial.drill.kind, trial.drill.target};
        if (has_target(hold.first) && std::find(asked.begin(), asked.end(), hold) == asked.end())
            asked.push_back(hold);
    }
    return asked;
}

struct Mean {
    Seconds sum{};
    int count{0};
    Seconds value() const { return sum / count; }
};
using Day = std::map<Hold, Mean>;

void add_trials(Day& day, const Practice& practice, HoldCounts counts)
{
    for (const Trial& trial : practice.trials) {
        const auto* measures = std::get_if<HoldMeasures>(&trial.measures);
        if (measures == nullptr || !trial.target) continue;
        const auto time = time_towards_goal(*measures, counts);
        if (!time) continue;
        Mean& mean = day[{trial.kind, *trial.target}];
        mean.sum += *time;
        ++mean.count;
    }
}

// The practices since the plan last came to its present step and goal, day by day.
std::map<Date, Day> days_at_step(const Plan& plan, std::span<const Practice> practices)
{
    std::map<Date, Day> days;
    for (const Practice& practice : practices) {
        if (practice.plan != plan.id) continue;
        if (practice.taper_step != plan.taper_step) {
            days.clear();
            continue;
        }
        if (plan.goal->set_on != Date{} && practice.begun.date < plan.goal->set_on) continue;
        if (practice.kind == PracticeKind::at_home)
            add_trials(days[practice.begun.date], practice, plan.counts);
    }
    return days;
}

// Every hold was done on that day.
bool is_full(const Day& day, const std::vector<Hold>& asked)
{
    return std::all_of(asked.begin(), asked.end(),
                       [&day](const Hold& hold) { return day.contains(hold); });
}

bool is_met(const Day& day, const std::vector<Hold>& asked, Seconds goal)
{
    return std::all_of(asked.begin(), asked.end(),
                       [&](const Hold& hold) { return day.at(hold).value() >= goal; });
}

// Mean of the holds' means, over the goal.
double share_of(const Day& day, const std::vector<Hold>& asked, Seconds goal)
{
    const Seconds sum = std::accumulate(
        asked.begin(), asked.end(), Seconds{},
        [&day](Seconds so_far, const Hold& hold) { return so_far + day.at(hold).value(); });
    return sum / goal / static_cast<double>(asked.size());
}

// ---- advice ------------------------------------------------------------------------------------

struct StepRecord {
    Date first{};     // day at this step
    int days_met{0};  // the latest full days, all met
    int days_in_week{0};
    std::optional<double> week_share;
};

StepRecord record_of(const Plan& plan, const std::map<Date, Day>& days, Date today)
{
    const std::vector<Hold> asked = holds_asked(plan);
    StepRecord record;
    std::vector<double> shares;
    bool all_met = true;
    if (asked.empty() || days.empty()) return record;
    record.first = days.begin()->first;
    for (auto it = days.rbegin(); it != days.rend(); ++it) {
        const auto& [date, day] = *it;
        if (date > today || !is_full(day, asked)) continue;
        all_met = all_met && is_met(day, asked, plan.goal->hold);
        if (all_met) ++record.days_met;
        if (days_between(date, today) < kWeek)
            shares.push_back(share_of(day, asked, plan.goal->hold));
    }
    record.days_in_week = static_cast<int>(shares.size());
    if (record.days_in_week >= std::min(kDaysForShare, practices_a_week_now(plan)))
        record.week_share =
            std::accumulate(shares.begin(), shares.end(), 0.0) / static_cast<double>(shares.size());
    return record;
}

// Rounded down: what falls short never looks as if it did not.
std::string percent(double share)
{
    constexpr double kRounding = 1e-9;
    return std::to_string(std::lround(std::floor(100.0 * share + kRounding))) + " %";
}

std::string days_in_words(int days)
{
    return count_in_words(days) + (days == 1 ? " day" : " days");
}

std::string next_step_name(const Plan& plan)
{
    const auto step = static_cast<std::size_t>(plan.taper_step);
    return "\"" + plan.taper.steps[step].name + "\"";
}

bool is_last_step(const Plan& plan)
{
    return static_cast<std::size_t>(plan.taper_step) >= plan.taper.steps.size();
}

// From the full plan: once the goals are met on so many days.
TaperAdvice advice_at_full(const Plan& plan, const StepRecord& record)
{
    TaperAdvice advice{.days_met = record.days_met, .goal_share = record.week_share};
    const std::string goal = short_seconds(plan.goal->hold);
    advice.reasoning = "Every hold reached its goal of " + goal + " on the latest " +
                       days_in_words(record.days_met) + "; the plan asks for " +
                       days_in_words(plan.taper.met_on_days) + ".";
    if (record.days_met == 0)
        advice.reasoning = "On the latest day not every hold reached its goal of " + goal + ".";
    if (record.first == Date{}) advice.reasoning = "Nothing was practised at this step yet.";
    if (record.days_met < plan.taper.met_on_days) return advice;
    if (plan.taper.steps.empty()) {
        advice.reasoning += " The plan has no taper.";
        return advice;
    }
    advice.move = TaperMove::next_step;
    advice.reasoning += " The next step would be " + next_step_name(plan) + ".";
    return advice;
}

// Within the taper: on after the step's days, back when too little is kept.
TaperAdvice advice_within(const Plan& plan, const StepRecord& record, Date today)
{
    TaperAdvice advice{.days_met = record.days_met, .goal_share = record.week_share};
    if (!record.week_share) {
        advice.reasoning = "Too few days of the last seven to say how much is kept: " +
                           count_in_words(record.days_in_week) + ".";
        return advice;
    }
    advice.reasoning = "Mean of the last seven days: " + percent(*record.week_share) +
                       " of the goal; " + percent(plan.taper.keep_share) + " is to be kept.";
    if (*record.week_share < plan.taper.keep_share) {
        advice.move = TaperMove::step_back;
        advice.reasoning += " Consider one step back until it is reached again.";
        return advice;
    }
    const TaperStep& step = plan.taper.steps[static_cast<std::size_t>(plan.taper_step) - 1];
    const auto days_here = days_between(record.first, today) + std::chrono::days{1};
    if (days_here < std::chrono::days{step.days}) {
        advice.reasoning += " This step is meant for " + days_in_words(step.days) +
                            "; this is day " + std::to_string(days_here.count()) + ".";
    } else if (is_last_step(plan)) {
        advice.reasoning += " This is the last step of the taper.";
    } else {
        advice.move = TaperMove::next_step;
        advice.reasoning += " The next step would be " + next_step_name(plan) + ".";
    }
    return advice;
}

}  // namespace

TaperAdvice taper_advice(const Plan& plan, std::span<const Practice> practices, Date today)
{
    if (!plan.goal) return {.reasoning = "The plan has no goal, so there is nothing to keep."};
    const StepRecord record = record_of(plan, days_at_step(plan, practices), today);
    const auto listed = static_cast<std::size_t>(std::max(plan.taper_step, 0));
    if (listed == 0 || listed > plan.taper.steps.size()) return advice_at_full(plan, record);
    return advice_within(plan, record, today);
}

}  // namespace holdwell
