#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "app/practice/drill_words.h"
#include "app/practice/progress_parts.h"
#include "app/report/report_parts.h"

namespace holdwell {

namespace {

using std::chrono::days;
using Shape = ReportPlot::Shape;
using Trend = ReportPlot::Trend;

constexpr double kLongestByTrial = 26.0 * 7.0;  // days
constexpr int kMostTicks = 9;
constexpr double kMiddleOfWeek = 3.5;

Date last_of(Date a, Date b) { return std::max(a, b); }

Date first_shown(const Progress& progress)
{
    if (!progress.day_one) return progress.period.from;
    const int week = week_of(progress.period.from, *progress.day_one);
    // The week of the period's first day; nothing was practised before week 1.
    return week < 1 ? *progress.day_one : first_day_of_week(week, *progress.day_one);
}

double day_on(const ReportAxis& axis, Date day)
{
    return static_cast<double>(days_between(axis.begins, day).count());
}

double middle_of_week(const ReportAxis& axis, Date begins)
{
    return std::clamp(day_on(axis, begins) + kMiddleOfWeek, 0.0, axis.days);
}

// Whole weeks between ticks, so that there are few of them.
int weeks_between_ticks(int weeks)
{
    for (const int step : {1, 2, 4, 8, 13, 26}) {
        if ((weeks + step - 1) / step <= kMostTicks) return step;
    }
    return 52;
}

Shape shape_of(TrialSource source, TrialMark mark)
{
    if (mark != TrialMark::none) return Shape::cross;
    return source == TrialSource::at_home ? Shape::filled : Shape::open;
}

// A little over the highest value, and its ticks: 1, 2 or 5 times a power of ten.
void set_upright(ReportPlot& plot, double highest)
{
    const double wanted = std::max(highest, 1.0) * 1.04;
    double step = 1.0;
    for (const double candidate : {1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0}) {
        step = candidate;
        if (wanted / candidate <= 5.0) break;
    }
    plot.step = step;
    plot.highest = step * std::ceil(wanted / step);
}

double highest_of(const std::vector<const TimedSeries*>& series)
{
    double highest = 0.0;
    for (const TimedSeries* one : series) {
        for (const TimedPoint& point : one->points)
            highest = std::max(highest, point.counted.count());
        if (one->goal) highest = std::max(highest, one->goal->count());
    }
    return highest;
}

std::string change_caption(const TimedSeries& series)
{
    const Change& change = series.change;
    if (!change.first || !change.last) {
        const std::size_t weeks = series.weeks.size();
        return weeks == 0 ? std::string{"no trial counted"}
                          : fmt::format("median {:.1f} s; too few days for weekly means",
                                        series.weeks.back().median.count());
    }
    const double difference = change.difference.count();
    std::string means =
        fmt::format("week {}: {:.1f} s, week {}: {:.1f} s; ", change.first->week,
                    change.first->mean->count(), change.last->week, change.last->mean->count());
    switch (change.kind) {
    case Change::Kind::longer:
        return means + fmt::format("{:.1f} s longer", difference);
    case Change::Kind::shorter:
        return means + fmt::format("{:.1f} s shorter", -difference);
    case Change::Kind::within_variation:
        return means + "within variation";
    case Change::Kind::too_few_days:
        break;
    }
    return means;
}

void add_holds(ReportPlot& plot, const TimedSeries& series, const ReportAxis& axis)
{
    std::map<Date, ReportPlot::Reach> reaches;
    for (const TimedPoint& point : series.points) {
        const double at = day_on(axis, point.day) + point.day_part;
        const double value = point.counted.count();
        if (!is_long(axis)) {
            plot.dots.push_back({at, value, shape_of(point.source, point.mark)});
        } else if (point.counts()) {
            const auto week = static_cast<int>(at / 7.0);
            const Date begins = day_after(axis.begins, days{7 * week});
            auto [entry, is_new] = reaches.try_emplace(
                begins, ReportPlot::Reach{7.0 * week + kMiddleOfWeek, value, value});
            entry->second.lowest = std::min(entry->second.lowest, value);
            entry->second.highest = std::max(entry->second.highest, value);
        }
    }
    for (const auto& [begins, reach] : reaches) plot.reaches.push_back(reach);
    Trend medians;
    for (const TimedWeek& week : series.weeks)
        medians.points.emplace_back(middle_of_week(axis, week.begins), week.median.count());
    plot.trends.push_back(std::move(medians));
}

ReportPlot hold_plot(const TimedSeries& series, const ReportAxis& axis, double highest)
{
    ReportPlot plot{.title = series_name(series), .caption = change_caption(series)};
    if (series.best) plot.beside = fmt::format("longest {:.1f} s", series.best->counted.count());
    add_holds(plot, series, axis);
    if (series.goal) {
        plot.goal = series.goal->count();
        plot.goal_name = "goal " + short_seconds(*series.goal);
    }
    set_upright(plot, highest);
    return plot;
}

std::string glide_caption(const GlideSeries& series)
{
    if (series.weeks.empty()) return "no trial counted";
    const auto text = [](const GlideWeek& week) {
        return week.range ? fmt::format("week {}: {:.1f}", week.week, week.range->value)
                          : fmt::format("week {}: unknown", week.week);
    };
    if (series.weeks.size() == 1) return text(series.weeks.front()) + " semitones";
    return text(series.weeks.front()) + ", " + text(series.weeks.back()) + " semitones";
}

ReportPlot range_plot(const GlideSeries& series, const ReportAxis& axis)
{
    ReportPlot plot{.title = series.direction == GlideDirection::up
                                 ? "Rising glide, range (semitones)"
                                 : "Falling glide, range (semitones)",
                    .caption = glide_caption(series)};
    double highest = 12.0;  // an octave
    Trend medians;
    for (const GlideWeek& week : series.weeks) {
        if (week.range)
            medians.points.emplace_back(middle_of_week(axis, week.begins), week.range->value);
    }
    for (const GlidePoint& point : series.points) {
        if (!point.range) continue;
        highest = std::max(highest, point.range->value);
        if (!is_long(axis)) {
            plot.dots.push_back({day_on(axis, point.day) + point.day_part, point.range->value,
                                 shape_of(point.source, point.mark)});
        }
    }
    plot.trends.push_back(std::move(medians));
    set_upright(plot, highest);
    return plot;
}

ReportPlot breaks_plot(const std::vector<GlideSeries>& glides, const ReportAxis& axis)
{
    ReportPlot plot{.title = "Breaks per glide, weekly mean"};
    double highest = 1.0;
    std::optional<Semitones> largest;
    for (const GlideSeries& series : glides) {
        const bool rising = series.direction == GlideDirection::up;
        Trend trend{.form = rising ? Trend::Form::solid : Trend::Form::dashed,
                    .name = rising ? "rising" : "falling"};
        for (const GlideWeek& week : series.weeks) {
            trend.points.emplace_back(middle_of_week(axis, week.begins), week.breaks_per_glide);
            highest = std::max(highest, week.breaks_per_glide);
            largest = std::max(largest, week.largest_break);
        }
        plot.trends.push_back(std::move(trend));
    }
    plot.caption = "solid: rising, broken: falling";
    if (largest) plot.caption += fmt::format("; largest {:.1f} semitones", largest->value);
    set_upright(plot, highest);
    return plot;
}

// One of the two ratings.
ReportPlot rating_plot(const Progress& progress, const ReportAxis& axis, int SelfRating::*which)
{
    ReportPlot plot{.highest = 10.0, .step = 5.0};
    std::map<int, std::vector<double>> by_week;
    for (const RatingPoint& point : progress.ratings) {
        const double value = point.rating.*which;
        if (!is_long(axis)) {
            const Shape shape = point.stopped_for_discomfort ? Shape::cross : Shape::filled;
            plot.dots.push_back({day_on(axis, point.day) + point.day_part, value, shape});
        }
        by_week[week_of(point.day, axis.begins)].push_back(value);
    }
    Trend medians;
    for (const auto& [week, values] : by_week) {
        medians.points.emplace_back(middle_of_week(axis, first_day_of_week(week, axis.begins)),
                                    median_value(values));
    }
    plot.trends.push_back(std::move(medians));
    return plot;
}

}  // namespace

bool is_long(const ReportAxis& axis) { return axis.days > kLongestByTrial; }

ReportAxis axis_of(const ReportSource& source)
{
    const Progress& progress = *source.progress;
    ReportAxis axis{.begins = first_shown(progress)};
    const Date end = last_of(progress.period.to, axis.begins);
    axis.days = std::max(7.0, day_on(axis, end) + 1.0);
    const int weeks = static_cast<int>(std::ceil(axis.days / 7.0));
    const int first = progress.day_one ? week_of(axis.begins, *progress.day_one) : 1;
    for (int week = 0; week < weeks; week += weeks_between_ticks(weeks))
        axis.ticks.emplace_back(7.0 * week, fmt::format("{}", first + week));
    for (const SetUpChange& change : progress.set_ups)
        axis.breaks_at.push_back(day_on(axis, change.day));
    return axis;
}

std::vector<ReportPlot> hold_plots(const ReportSource& source, const ReportAxis& axis)
{
    const std::vector<const TimedSeries*> series = shown_series(*source.progress);
    // One height for all, so that notes can be compared.
    const double highest = highest_of(series);
    std::vector<ReportPlot> plots;
    plots.reserve(series.size());
    for (const TimedSeries* one : series) plots.push_back(hold_plot(*one, axis, highest));
    return plots;
}

std::vector<ReportPlot> glide_plots(const ReportSource& source, const ReportAxis& axis)
{
    std::vector<ReportPlot> plots;
    for (const GlideSeries& series : source.progress->glides)
        plots.push_back(range_plot(series, axis));
    if (!plots.empty()) plots.push_back(breaks_plot(source.progress->glides, axis));
    return plots;
}

std::vector<ReportPlot> rating_plots(const ReportSource& source, const ReportAxis& axis)
{
    const Progress& progress = *source.progress;
    if (progress.ratings.empty()) return {};
    ReportPlot effort = rating_plot(progress, axis, &SelfRating::effort);
    effort.title = "Effort, self-rated (0 to 10)";
    ReportPlot discomfort = rating_plot(progress, axis, &SelfRating::discomfort);
    discomfort.title = "Discomfort, self-rated (0 to 10)";
    const auto stopped = std::ranges::count_if(
        progress.ratings, [](const RatingPoint& point) { return point.stopped_for_discomfort; });
    effort.caption = fmt::format("{} practices rated", progress.ratings.size());
    discomfort.caption = stopped == 0 ? std::string{"none stopped for discomfort"}
                                      : fmt::format("cross: stopped for discomfort ({})", stopped);
    return {std::move(effort), std::move(discomfort)};
}

}  // namespace holdwell
