#include <algorithm>

#include "app/practice/progress_parts.h"

namespace holdwell {

namespace {

using std::chrono::days;

std::optional<Seconds> mean_of_last_day(const std::vector<TimedPoint>& points)
{
    std::optional<Date> day;
    double sum = 0.0;
    int count = 0;
    for (const TimedPoint& point : points) {
        if (!point.counts()) continue;
        if (point.day != day) sum = count = 0;
        day = point.day;
        sum += point.counted.count();
        ++count;
    }
    return count > 0 ? std::optional{Seconds{sum / count}} : std::nullopt;
}

NoteStanding standing_of(const TimedSeries& series)
{
    NoteStanding standing{.kind = series.kind,
                          .note = series.note,
                          .last = mean_of_last_day(series.points),
                          .goal = series.goal};
    if (series.best) {
        standing.longest = series.best->counted;
        standing.longest_on = series.best->day;
    }
    return standing;
}

struct GlidesOfWeek {
    int glides{0};
    int breaks{0};
    std::vector<double> ranges;
    std::optional<double> breaks_per_glide() const
    {
        if (glides == 0) return std::nullopt;
        return static_cast<double>(breaks) / glides;
    }
};

GlidesOfWeek glides_of(const Progress& progress, int week, Date day_one)
{
    GlidesOfWeek found;
    for (const GlideSeries& series : progress.glides) {
        for (const GlidePoint& point : series.points) {
            if (!point.counts() || week_of(point.day, day_one) != week) continue;
            ++found.glides;
            found.breaks += point.breaks;
            if (point.range) found.ranges.push_back(point.range->value);
        }
    }
    return found;
}

int last_week_with_glides(const Progress& progress)
{
    int week = 0;
    for (const GlideSeries& series : progress.glides) {
        if (!series.weeks.empty()) week = std::max(week, series.weeks.back().week);
    }
    return week;
}

void read_glides(const Progress& progress, Date day_one, ClientReading& reading)
{
    const GlidesOfWeek now = glides_of(progress, reading.week, day_one);
    reading.breaks_per_glide = now.breaks_per_glide();
    reading.breaks_per_glide_last_week =
        glides_of(progress, reading.week - 1, day_one).breaks_per_glide();
    const std::vector<double> ranges =
        !now.ranges.empty() ? now.ranges
                            : glides_of(progress, last_week_with_glides(progress), day_one).ranges;
    if (!ranges.empty()) reading.range = Semitones{median_value(ranges)};
}

// The days of the week with all that is asked of them, also of those ahead.
void read_week(const ClientFile& file, Date today, Date day_one, ClientReading& reading)
{
    const Date begins = first_day_of_week(reading.week, day_one);
    const Date ends = day_after(begins, days{6});
    RecordView record{&file, {begins, ends, day_after(ends, days{1})}, day_one, day_one, {}};
    for (const Sitting& sitting : sittings_of(file)) {
        if (begins <= sitting.practice->begun.date && sitting.practice->begun.date <= today)
            record.sittings.push_back(sitting);
    }
    reading.days = adherence_by_day(record);
    const Adherence sum = sum_of(reading.days);
    reading.done = sum.done();
    reading.asked = sum.asked;
}

}  // namespace

ClientReading client_reading(const ClientFile& file, Date today)
{
    const Progress progress = progress_of(file, whole_record(file, today));
    const Date day_one = std::min(progress.day_one.value_or(today), today);
    ClientReading reading{.week = week_of(today, day_one)};
    read_week(file, today, day_one, reading);
    for (const TimedSeries& series : progress.timed) {
        if (series.note) reading.notes.push_back(standing_of(series));
    }
    read_glides(progress, day_one, reading);
    return reading;
}

}  // namespace holdwell
