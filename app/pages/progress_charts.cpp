#include "app/pages/progress_charts.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/practice/day_text.h"
#include "app/practice/drill_words.h"

namespace holdwell {
namespace {

using Point = ChartBlock::Point;
using Mark = ChartBlock::Point::Mark;

constexpr double kMiddleOfWeek = 3.5;  // days

double day_in(const Period& period, Date day)
{
    return static_cast<double>(days_between(period.from, day).count());
}

double days_of(const Period& period) { return day_in(period, period.to) + 1.0; }

// A week that begins before the period has its middle inside it or at its edge.
double middle_of_week(const Period& period, Date begins)
{
    return std::clamp(day_in(period, begins) + kMiddleOfWeek, 0.0, days_of(period));
}

template <typename SomePoint>
Mark mark_of(const SomePoint& point)
{
    if (point.counts()) return Mark::filled;
    const bool is_whole = point.mark == TrialMark::none;
    return point.source == TrialSource::in_session && is_whole ? Mark::open : Mark::cross;
}

ChartBlock empty_chart(std::string title, std::string unit, const Progress& progress)
{
    ChartBlock chart{.title = std::move(title),
                     .unit = std::move(unit),
                     .days = std::max(days_of(progress.period), 7.0),
                     .day_names = day_names_of(progress.period),
                     .size = ChartBlock::Size::small};
    for (const SetUpChange& change : progress.set_ups)
        chart.breaks_at.push_back(day_in(progress.period, change.day));
    return chart;
}

void fit_axis(ChartBlock& chart)
{
    double highest = chart.goal.value_or(0.0);
    for (const Point& point : chart.points) highest = std::max(highest, point.value);
    for (const Point& point : chart.line) highest = std::max(highest, point.value);
    chart.last_value = axis_end_for(highest);
}

std::string hold_summary(const TimedSeries& series)
{
    if (!series.recent) return "no counted trial in the last 7 days";
    std::string said = fmt::format("{} in the last 7 days", short_seconds(*series.recent));
    if (const auto share = series.goal_share())
        said += fmt::format(", {} of the goal", percent_said(*share));
    return said;
}

const char* direction_said(GlideDirection direction)
{
    return direction == GlideDirection::up ? "rising" : "falling";
}

SharesBlock shares_of(const OnsetWeek& week)
{
    return {.title = fmt::format("Onsets in week {}, {} holds", week.week, week.all()),
            .shares = {{onset_said(OnsetClass::easy), week.easy},
                       {onset_said(OnsetClass::hard), week.hard},
                       {onset_said(OnsetClass::breathy), week.breathy},
                       {onset_said(OnsetClass::unsure), week.unsure}}};
}

}  // namespace

double axis_end_for(double highest)
{
    if (highest <= 5.0) return 5.0;
    return std::ceil(highest / 10.0) * 10.0;
}

std::vector<std::pair<double, std::string>> day_names_of(const Period& period)
{
    constexpr int kNames = 4;  // besides the first
    const auto days = static_cast<int>(days_of(period));
    const int step = std::max(1, (days + kNames - 1) / kNames);
    std::vector<std::pair<double, std::string>> names;
    for (int day = 0; day < days; day += step)
        names.emplace_back(day, short_day_text(day_after(period.from, std::chrono::days{day}), {}));
    return names;
}

ChartBlock hold_chart(const TimedSeries& series, const Progress& progress)
{
    ChartBlock chart =
        empty_chart(drill_on_note_said(series.kind, series.note), std::string{"s"}, progress);
    chart.summary = hold_summary(series);
    for (const TimedPoint& point : series.points)
        chart.points.push_back({day_in(progress.period, point.day) + point.day_part,
                                point.counted.count(), mark_of(point)});
    for (const TimedWeek& week : series.weeks)
        chart.line.push_back(
            {middle_of_week(progress.period, week.begins), week.median.count(), Mark::filled});
    if (series.goal) {
        chart.goal = series.goal->count();
        chart.goal_name = "goal " + short_seconds(*series.goal);
    }
    fit_axis(chart);
    return chart;
}

ChartBlock baseline_chart(const Progress& progress)
{
    ChartBlock chart = empty_chart("Quiet /s/ and /z/ in session", std::string{"s"}, progress);
    chart.summary = "longest of each session: /s/ filled, /z/ open";
    for (const BaselineReading& reading : progress.baselines) {
        const double day = day_in(progress.period, reading.day) + 0.5;
        if (reading.s) chart.points.push_back({day, reading.s->count(), Mark::filled});
        if (reading.z) chart.points.push_back({day, reading.z->count(), Mark::open});
    }
    fit_axis(chart);
    return chart;
}

ChartBlock range_chart(const GlideSeries& series, const Progress& progress)
{
    ChartBlock chart = empty_chart(
        fmt::format("Range of {} glides, in semitones", direction_said(series.direction)),
        std::string{}, progress);
    chart.summary = series.widest ? fmt::format("widest {:.0f} semitones", series.widest->value)
                                  : "no counted glide";
    for (const GlidePoint& point : series.points)
        if (point.range)
            chart.points.push_back({day_in(progress.period, point.day) + point.day_part,
                                    point.range->value, mark_of(point)});
    for (const GlideWeek& week : series.weeks)
        if (week.range)
            chart.line.push_back(
                {middle_of_week(progress.period, week.begins), week.range->value, Mark::filled});
    fit_axis(chart);
    return chart;
}

ChartBlock breaks_chart(const GlideSeries& series, const Progress& progress)
{
    ChartBlock chart =
        empty_chart(fmt::format("Breaks in {} glides", direction_said(series.direction)),
                    std::string{}, progress);
    if (!series.weeks.empty())
        chart.summary = fmt::format("{:.0f} in ten glides, in the last week",
                                    10.0 * series.weeks.back().breaks_per_glide);
    for (const GlidePoint& point : series.points) {
        // Noted on paper as done: nobody counted, or none was heard.
        if (point.mark == TrialMark::not_measured && point.breaks == 0) continue;
        chart.points.push_back({day_in(progress.period, point.day) + point.day_part,
                                static_cast<double>(point.breaks), mark_of(point)});
    }
    for (const GlideWeek& week : series.weeks)
        chart.line.push_back(
            {middle_of_week(progress.period, week.begins), week.breaks_per_glide, Mark::filled});
    fit_axis(chart);
    return chart;
}

ChartBlock fry_chart(const Progress& progress)
{
    ChartBlock chart = empty_chart("Trials with fry", "%", progress);
    chart.summary = "of each week's trials, 150 ms of it or more";
    for (const FryWeek& week : progress.fry) {
        if (week.trials == 0) continue;
        const double share = 100.0 * week.with_fry / week.trials;
        chart.line.push_back({middle_of_week(progress.period, week.begins), share, Mark::filled});
    }
    chart.points = chart.line;
    fit_axis(chart);
    return chart;
}

ChartBlock rating_chart(RatingOf of, const Progress& progress)
{
    ChartBlock chart =
        empty_chart(of == RatingOf::effort ? "Effort, 0 to 10" : "Discomfort, 0 to 10",
                    std::string{}, progress);
    chart.summary = "as rated after each practice; a cross where it was stopped";
    for (const RatingPoint& point : progress.ratings) {
        const int value = of == RatingOf::effort ? point.rating.effort : point.rating.discomfort;
        chart.points.push_back({day_in(progress.period, point.day) + point.day_part,
                                static_cast<double>(value),
                                point.stopped_for_discomfort ? Mark::cross : Mark::filled});
    }
    chart.last_value = 10.0;
    return chart;
}

std::vector<SharesBlock> onset_shares(const Progress& progress)
{
    std::vector<SharesBlock> blocks;
    const auto has_holds = [](const OnsetWeek& week) { return week.all() > 0; };
    const auto first = std::ranges::find_if(progress.onsets, has_holds);
    if (first == progress.onsets.end()) return blocks;
    blocks.push_back(shares_of(*first));
    const auto last = std::find_if(progress.onsets.rbegin(), progress.onsets.rend(), has_holds);
    if (last->week != first->week) blocks.push_back(shares_of(*last));
    return blocks;
}

DaysBlock adherence_days(const Progress& progress, int weeks)
{
    constexpr std::size_t kWeek = 7;
    const std::size_t most = static_cast<std::size_t>(weeks) * kWeek;
    const std::size_t whole_rows = progress.days.size() / kWeek * kWeek;
    const std::size_t shown =
        progress.days.size() < kWeek ? progress.days.size() : std::min(most, whole_rows);
    DaysBlock block;
    for (std::size_t i = progress.days.size() - shown; i < progress.days.size(); ++i) {
        const AdherenceDay& day = progress.days[i];
        // The month once a row.
        const bool begins_row = block.days.size() % kWeek == 0;
        const std::string number = std::to_string(static_cast<unsigned>(day.day.day()));
        block.days.push_back({.name = begins_row ? short_day_text(day.day, {}) : number,
                              .done = day.of.done(),
                              .asked = day.of.asked,
                              .partly = day.of.partly,
                              .is_today = day.day == progress.period.today});
    }
    return block;
}

}  // namespace holdwell
