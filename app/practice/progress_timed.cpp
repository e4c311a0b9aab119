#include <algorithm>
#include <map>
#include <tuple>

#include "app/practice/progress_parts.h"

namespace holdwell {

namespace {

using std::chrono::days;

// A drill at one note, in the order in which series are shown.
using SeriesKey = std::tuple<int, std::optional<Note>>;

int place_of(DrillKind kind)
{
    switch (kind) {
    case DrillKind::warm_up_hold:
        return 0;
    case DrillKind::ladder_hold:
        return 1;
    case DrillKind::s_hold:
        return 2;
    case DrillKind::z_hold:
        return 3;
    case DrillKind::rising_glide:
    case DrillKind::falling_glide:
        break;
    }
    return 4;
}

HoldCounts counts_in(const RecordView& record)
{
    const Plan* plan = find_plan_in_force(*record.file, record.period.to);
    return plan ? plan->counts : HoldCounts::all_phonation;
}

std::optional<Seconds> goal_now(const RecordView& record, const TimedSeries& series)
{
    if (!series.note) return std::nullopt;
    if (const Plan* plan = find_plan_in_force(*record.file, record.period.to))
        return plan->goal ? std::optional{plan->goal->hold} : std::nullopt;
    return series.points.empty() ? std::nullopt : series.points.back().goal;
}

void fill_times(TimedPoint& point, const Measures& measures, HoldCounts counts)
{
    if (const auto* hold = std::get_if<HoldMeasures>(&measures)) {
        point.hold_time = hold->hold_time;
        point.in_band = hold->in_band;
        const bool in_band = counts == HoldCounts::in_band_only;
        point.counted = in_band ? hold->in_band.value_or(Seconds{}) : hold->hold_time;
        if (point.mark == TrialMark::none && !time_towards_goal(*hold, counts))
            point.mark = TrialMark::not_measured;
    } else if (const auto* sibilant = std::get_if<SibilantMeasures>(&measures)) {
        point.hold_time = sibilant->length;
        point.counted = sibilant->length;
    }
}

TimedPoint point_of(const Practice& practice, const Trial& trial, HoldCounts counts)
{
    TimedPoint point{.day = practice.begun.date,
                     .day_part = part_of_day(practice.begun.time),
                     .practice = practice.id,
                     .number = trial.number,
                     .goal = trial.goal,
                     .source = source_of(practice.kind),
                     .mark = mark_of(trial)};
    fill_times(point, trial.measures, counts);
    return point;
}

// An /s/ in session is a baseline, read apart.
bool belongs_to_series(const Practice& practice, const Trial& trial)
{
    if (std::holds_alternative<HoldMeasures>(trial.measures)) return true;
    return std::holds_alternative<SibilantMeasures>(trial.measures) &&
           practice.kind != PracticeKind::in_session;
}

// Points are looked at where they are: each holds an id, so that a copy of it allocates.
using PointsSeen = std::vector<const TimedPoint*>;

MeanOfDays mean_of(const PointsSeen& points)
{
    MeanOfDays mean;
    for (const TimedPoint* point : points) mean.add(point->day, point->counted);
    return mean;
}

double in_band_share(const PointsSeen& points)
{
    double in_band = 0.0;
    double all = 0.0;
    for (const TimedPoint* point : points) {
        if (!point->in_band) continue;
        in_band += point->in_band->count();
        all += point->hold_time.count();
    }
    return all > 0.0 ? in_band / all : 0.0;
}

TimedWeek week_from(const PointsSeen& points)
{
    std::vector<double> values;
    values.reserve(points.size());
    for (const TimedPoint* point : points) values.push_back(point->counted.count());
    const MeanOfDays mean = mean_of(points);
    TimedWeek week{.days = mean.days(),
                   .trials = static_cast<int>(points.size()),
                   .best = Seconds{*std::ranges::max_element(values)},
                   .in_band_share = in_band_share(points)};
    week.median = Seconds{median_value(std::move(values))};
    if (mean.days() >= kDaysForMean) week.mean = mean.value();
    return week;
}

std::vector<TimedWeek> weeks_of(const std::vector<TimedPoint>& points, Date day_one)
{
    std::map<int, PointsSeen> by_week;
    for (const TimedPoint& point : points) {
        if (point.counts()) by_week[week_of(point.day, day_one)].push_back(&point);
    }
    std::vector<TimedWeek> weeks;
    for (const auto& [number, of_week] : by_week) {
        weeks.push_back(week_from(of_week));
        weeks.back().week = number;
        weeks.back().begins = first_day_of_week(number, day_one);
    }
    return weeks;
}

std::optional<TimedPoint> longest_of(const std::vector<TimedPoint>& points)
{
    const TimedPoint* best = nullptr;
    for (const TimedPoint& point : points) {
        if (point.counts() && (best == nullptr || point.counted > best->counted)) best = &point;
    }
    return best != nullptr ? std::optional{*best} : std::nullopt;
}

std::optional<Seconds> recent_mean(const std::vector<TimedPoint>& points, Date last_day)
{
    PointsSeen recent;
    for (const TimedPoint& point : points) {
        if (point.counts() && point.day > day_after(last_day, days{-7})) recent.push_back(&point);
    }
    return mean_of(recent).value();
}

void finish(const RecordView& record, TimedSeries& series)
{
    series.weeks = weeks_of(series.points, record.day_one);
    series.goal = goal_now(record, series);
    series.best = longest_of(series.points);
    series.recent = recent_mean(series.points, record.period.to);
    series.change = change_between(series.weeks);
}

}  // namespace

std::optional<double> TimedSeries::goal_share() const
{
    if (!goal || !recent || goal->count() <= 0.0) return std::nullopt;
    return *recent / *goal;
}

std::vector<TimedSeries> timed_series(const RecordView& record)
{
    const HoldCounts counts = counts_in(record);
    std::map<SeriesKey, TimedSeries> by_key;
    for (const Sitting& sitting : record.sittings) {
        for (const Trial* trial : sitting.trials) {
            if (!belongs_to_series(*sitting.practice, *trial)) continue;
            const bool held = std::holds_alternative<HoldMeasures>(trial->measures);
            const std::optional<Note> note = held ? trial->target : std::nullopt;
            TimedSeries& series = by_key[{place_of(trial->kind), note}];
            series.kind = trial->kind;
            series.note = note;
            series.points.push_back(point_of(*sitting.practice, *trial, counts));
        }
    }
    std::vector<TimedSeries> found;
    for (auto& [key, series] : by_key) {
        finish(record, series);
        found.push_back(std::move(series));
    }
    return found;
}

}  // namespace holdwell
