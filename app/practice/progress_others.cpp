#include <algorithm>
#include <map>

#include "app/practice/goals.h"
#include "app/practice/progress_parts.h"

namespace holdwell {

namespace {

GlidePoint point_of(const Practice& practice, const Trial& trial, const GlideMeasures& glide)
{
    return {.day = practice.begun.date,
            .day_part = part_of_day(practice.begun.time),
            .practice = practice.id,
            .number = trial.number,
            .range = glide.range(),
            .breaks = glide.breaks(),
            .largest_break = glide.largest_jump,
            .fry = glide.fry,
            .source = source_of(practice.kind),
            .mark = mark_of(trial)};
}

using PointsSeen = std::vector<const GlidePoint*>;

std::optional<Semitones> median_range(const PointsSeen& points)
{
    std::vector<double> ranges;
    for (const GlidePoint* point : points) {
        if (point->range) ranges.push_back(point->range->value);
    }
    return ranges.empty() ? std::nullopt
                          : std::optional{Semitones{median_value(std::move(ranges))}};
}

GlideWeek week_from(const PointsSeen& points)
{
    GlideWeek week{.glides = static_cast<int>(points.size()), .range = median_range(points)};
    int breaks = 0;
    for (const GlidePoint* point : points) {
        breaks += point->breaks;
        if (point->largest_break)
            week.largest_break = std::max(week.largest_break, point->largest_break);
    }
    week.breaks_per_glide = static_cast<double>(breaks) / static_cast<double>(points.size());
    return week;
}

void finish(GlideSeries& series, Date day_one)
{
    std::map<int, PointsSeen> by_week;
    for (const GlidePoint& point : series.points) {
        if (!point.counts()) continue;
        by_week[week_of(point.day, day_one)].push_back(&point);
        series.widest = std::max(series.widest, point.range);
    }
    for (const auto& [number, points] : by_week) {
        series.weeks.push_back(week_from(points));
        series.weeks.back().week = number;
        series.weeks.back().begins = first_day_of_week(number, day_one);
    }
}

// Calls visit(week, trial) for every counted trial at home.
template <typename Visit>
void each_counted_trial(const RecordView& record, Visit visit)
{
    for (const Sitting& sitting : record.sittings) {
        if (sitting.practice->kind != PracticeKind::at_home) continue;
        const int week = week_of(sitting.practice->begun.date, record.day_one);
        for (const Trial* trial : sitting.trials) {
            if (mark_of(*trial) == TrialMark::none) visit(week, *trial);
        }
    }
}

// The named weeks in order, each told its number and first day.
template <typename Week>
std::vector<Week> in_order(const std::map<int, Week>& by_week, Date day_one)
{
    std::vector<Week> weeks;
    for (const auto& [number, week] : by_week) {
        weeks.push_back(week);
        weeks.back().week = number;
        weeks.back().begins = first_day_of_week(number, day_one);
    }
    return weeks;
}

bool has_fry(const Trial& trial)
{
    if (const auto* hold = std::get_if<HoldMeasures>(&trial.measures))
        return hold->fry >= kFryWorthCounting || hold->ended_by == HoldEnd::fry;
    const auto* glide = std::get_if<GlideMeasures>(&trial.measures);
    return glide && glide->fry >= kFryWorthCounting;
}

std::optional<Seconds> longest(const std::vector<Seconds>& times)
{
    const auto found = std::ranges::max_element(times);
    return found == times.end() ? std::nullopt : std::optional{*found};
}

}  // namespace

std::vector<GlideSeries> glide_series(const RecordView& record)
{
    std::map<GlideDirection, GlideSeries> by_direction;
    for (const Sitting& sitting : record.sittings) {
        for (const Trial* trial : sitting.trials) {
            const auto* glide = std::get_if<GlideMeasures>(&trial->measures);
            if (!glide) continue;
            // As asked for: a rising glide that was sung downwards is no falling one.
            const auto asked =
                trial->kind == DrillKind::falling_glide ? GlideDirection::down : GlideDirection::up;
            by_direction[asked].direction = asked;
            by_direction[asked].points.push_back(point_of(*sitting.practice, *trial, *glide));
        }
    }
    std::vector<GlideSeries> found;
    for (auto& [direction, series] : by_direction) {
        finish(series, record.day_one);
        found.push_back(std::move(series));
    }
    return found;
}

std::vector<OnsetWeek> onset_weeks(const RecordView& record)
{
    std::map<int, OnsetWeek> by_week;
    each_counted_trial(record, [&](int week, const Trial& trial) {
        const auto* hold = std::get_if<HoldMeasures>(&trial.measures);
        if (!hold) return;
        OnsetWeek& of = by_week[week];
        switch (hold->onset) {
        case OnsetClass::easy:
            ++of.easy;
            break;
        case OnsetClass::hard:
            ++of.hard;
            break;
        case OnsetClass::breathy:
            ++of.breathy;
            break;
        case OnsetClass::unsure:
            ++of.unsure;
            break;
        }
    });
    return in_order(by_week, record.day_one);
}

std::vector<FryWeek> fry_weeks(const RecordView& record)
{
    std::map<int, FryWeek> by_week;
    each_counted_trial(record, [&](int week, const Trial& trial) {
        if (std::holds_alternative<SibilantMeasures>(trial.measures)) return;
        ++by_week[week].trials;
        by_week[week].with_fry += has_fry(trial) ? 1 : 0;
    });
    return in_order(by_week, record.day_one);
}

std::optional<double> BaselineReading::ratio() const
{
    if (!s || !z || z->count() <= 0.0) return std::nullopt;
    return *s / *z;
}

std::vector<BaselineReading> baselines_of(const RecordView& record)
{
    std::vector<BaselineReading> found;
    for (const Sitting& sitting : record.sittings) {
        if (sitting.practice->kind != PracticeKind::in_session) continue;
        Practice once;
        for (const Trial* trial : sitting.trials) once.trials.push_back(*trial);
        const SibilantTimes times = sibilant_times(once);
        if (times.s.empty() && times.z.empty()) continue;
        found.push_back({.day = sitting.practice->begun.date,
                         .s_trials = static_cast<int>(times.s.size()),
                         .z_trials = static_cast<int>(times.z.size()),
                         .s = longest(times.s),
                         .z = longest(times.z)});
    }
    return found;
}

std::vector<RatingPoint> ratings_of(const RecordView& record)
{
    std::vector<RatingPoint> found;
    for (const Sitting& sitting : record.sittings) {
        const Practice& practice = *sitting.practice;
        if (!practice.rating) continue;
        found.push_back(
            {.day = practice.begun.date,
             .day_part = part_of_day(practice.begun.time),
             .rating = *practice.rating,
             .stopped_for_discomfort = practice.completion == Completion::stopped_for_discomfort});
    }
    return found;
}

std::vector<SetUpChange> set_up_changes(const std::vector<Sitting>& whole, const Period& period)
{
    std::vector<SetUpChange> found;
    std::string last;
    for (const Sitting& sitting : whole) {
        const Practice& practice = *sitting.practice;
        // A session is on the therapist's own set-up.
        if (practice.kind != PracticeKind::at_home || !practice.sound_check) continue;
        const std::string& now = practice.sound_check->fingerprint;
        if (now.empty()) continue;
        const Date day = practice.begun.date;
        if (!last.empty() && now != last && period.from <= day && day <= period.to)
            found.push_back({day});
        last = now;
    }
    return found;
}

}  // namespace holdwell
