#include <algorithm>

#include <fmt/format.h>

#include "app/practice/chart_note.h"
#include "app/report/report_parts.h"

namespace holdwell {

namespace {

using std::chrono::days;

constexpr std::size_t kMostWeeksOfSquares = 16;

std::vector<ReportSlot> slots_of(const Adherence& day)
{
    std::vector<ReportSlot> slots;
    const auto add = [&](int count, ReportSlot slot) {
        for (int i = 0; i < count; ++i) slots.push_back(slot);
    };
    // Of those by hand it is not kept which were complete: they are shown as by hand.
    add(std::max(day.complete - day.entered_by_hand, 0), ReportSlot::complete);
    add(std::max(day.partly - std::max(day.entered_by_hand - day.complete, 0), 0),
        ReportSlot::partly);
    add(day.entered_by_hand, ReportSlot::by_hand);
    add(day.not_today, ReportSlot::not_today);
    const int done = static_cast<int>(slots.size());
    add(std::max(day.asked - done, 0), ReportSlot::not_done);
    return slots;
}

bool is_empty(const AdherenceDay& week) { return week.of == Adherence{}; }

// Without empty weeks before the first practice.
std::vector<AdherenceDay> weeks_shown(const Progress& progress)
{
    const auto first = std::ranges::find_if_not(progress.weeks, is_empty);
    return {first, progress.weeks.end()};
}

ReportWeek week_of_squares(const Progress& progress, const AdherenceDay& week, const DayForm& form)
{
    ReportWeek shown{.name = fmt::format("{}", week_of(week.day, *progress.day_one)),
                     .from = short_day_text(week.day, form),
                     .done = week.of.done(),
                     .asked = week.of.asked};
    shown.days.resize(7);
    for (const AdherenceDay& day : progress.days) {
        const auto nth = days_between(week.day, day.day).count();
        if (nth >= 0 && nth < 7) shown.days[static_cast<std::size_t>(nth)] = slots_of(day.of);
    }
    return shown;
}

std::vector<ReportWeek> bars_of(const Progress& progress, const std::vector<AdherenceDay>& weeks,
                                const DayForm& form)
{
    const std::size_t most = static_cast<std::size_t>(kMostBars);
    const std::size_t in_bar = (weeks.size() + most - 1) / most;
    std::vector<ReportWeek> bars;
    for (std::size_t i = 0; i < weeks.size(); ++i) {
        if (i % in_bar == 0) {
            bars.push_back({.name = fmt::format("{}", week_of(weeks[i].day, *progress.day_one)),
                            .from = short_day_text(weeks[i].day, form)});
        }
        bars.back().done += weeks[i].of.done();
        bars.back().asked += weeks[i].of.asked;
    }
    return bars;
}

}  // namespace

ReportAdherence adherence_of(const ReportSource& source)
{
    const Progress& progress = *source.progress;
    ReportAdherence shown{.summary = adherence_in_words(progress.adherence) + "."};
    if (!progress.day_one) return shown;
    const std::vector<AdherenceDay> weeks = weeks_shown(progress);
    if (weeks.size() > kMostWeeksOfSquares) {
        shown.form = ReportAdherence::Form::bars;
        shown.weeks = bars_of(progress, weeks, source.options->days);
        return shown;
    }
    for (const AdherenceDay& week : weeks)
        shown.weeks.push_back(week_of_squares(progress, week, source.options->days));
    return shown;
}

}  // namespace holdwell
