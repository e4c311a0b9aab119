#include "app/report/report_view.h"

#include <fmt/format.h>

#include "app/practice/chart_note.h"
#include "app/practice/goals.h"
#include "app/report/report_parts.h"

namespace holdwell {

namespace {

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
    if (options.measurable) {
        view.measurable = {sentence_of(*options.measurable, view.who, options.days),
                           record_of(*options.measurable, file, period).sentence};
    }
    view.small_print = small_print(source);
    return view;
}

}  // namespace holdwell
