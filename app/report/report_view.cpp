#include "app/report/report_view.h"

#include <fmt/format.h>

#include "app/practice/chart_note.h"
#include "app/practice/goals.h"
#include "app/report/report_parts.h"

namespace holdwell {

namespace {

constexpr std::size_t kMostGoals = 3;  // there is room for so many

std::string who_of(const ClientFile& file, const ReportOptions& options)
{
    if (options.name.empty()) return file.client.code;
    return fmt::format("{} ({})", options.name, file.client.code);
}

std::string period_text(const Period& period, const DayForm& days)
{
    const auto count = days_between(period.from, period.to).count() + 1;
    return fmt::format("{} to {} ({} day{})", day_text(period.from, days),
                       day_text(period.to, days), count, count == 1 ? "" : "s");
}

void add_pictures(const ReportSource& source, ReportView& view)
{
    const Progress& progress = *source.progress;
    view.axis = axis_of(source);
    view.adherence = adherence_of(source);
    view.holds = hold_plots(source, view.axis);
    view.holds_not_shown = not_shown(progress);
    view.hold_table = hold_table(source);
    view.glides = glide_plots(source, view.axis);
    view.onsets = onset_mix(source);
    view.ratings = rating_plots(source, view.axis);
    view.baselines = baseline_table(source);
    if (!view.baselines.rows.empty()) view.baseline_caution = kSzCaution;
}

// Set by the period's end, and not withdrawn before it began.
bool stood_in(const ClientGoal& goal, const Period& period)
{
    return goal.set_on <= period.to && (!goal.withdrawn_on || *goal.withdrawn_on >= period.from);
}

// The one that was asked for, then the latest of those that were set.
void add_goals(const ReportSource& source, const Period& period, ReportView& view)
{
    const ClientFile& file = *source.file;
    const DayForm& days = source.options->days;
    const auto& asked = source.options->measurable;
    if (asked) {
        view.measurable = {sentence_of(*asked, view.who, days),
                           record_of(*asked, file, period).sentence};
    }
    std::size_t shown = 0;
    for (auto goal = file.goals.rbegin(); goal != file.goals.rend(); ++goal) {
        if (shown == kMostGoals) return;
        if (!stood_in(*goal, period)) continue;
        ++shown;
        const GoalRecord record = record_of(*goal, file, period.to);
        if (asked != goal->goal) view.measurable.push_back(sentence_of(goal->goal, view.who, days));
        view.measurable.push_back(
            fmt::format("{} {}", history_of(*goal, record, period.to, days), record.sentence));
    }
}

}  // namespace

ReportView report_view(const ClientFile& file, const Period& period, const ReportOptions& options)
{
    const Progress progress = progress_of(file, period);
    const std::optional<Plan> plan = plan_in_force(file, period.to);
    const ReportSource source{&file, &progress, &options, plan ? &*plan : nullptr};
    ReportView view;
    view.who = who_of(file, options);
    view.period = period_text(period, options.days);
    if (!options.days.day_one) view.made = options.made_on;
    view.made_on = day_text(options.made_on, options.days);
    view.plan = plan_lines(source);
    if (progress.practices > 0 || progress.adherence.not_today > 0) {
        add_pictures(source, view);
    } else {
        view.nothing = "No practice was recorded in this period.";
    }
    view.chart_note = chart_note(progress, view.who, options.days);
    add_goals(source, period, view);
    view.small_print = small_print(source);
    return view;
}

}  // namespace holdwell
