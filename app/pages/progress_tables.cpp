// The numbers behind the pictures.

#include <algorithm>

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/pages/progress_words.h"
#include "app/practice/day_text.h"
#include "app/practice/drill_words.h"
#include "app/practice/norms.h"

namespace holdwell {
namespace {

constexpr const char* kNone = "–";

// Counted or not, and why.
template <typename SomePoint>
std::string standing_of(const SomePoint& point)
{
    switch (point.mark) {
    case TrialMark::samples_lost:
        return "samples lost";
    case TrialMark::doubtful:
        return "in doubt";
    case TrialMark::not_measured:
        return "not measured";
    case TrialMark::none:
        break;
    }
    switch (point.source) {
    case TrialSource::at_home:
        return "counted";
    case TrialSource::in_session:
        return "in session";
    case TrialSource::by_hand:
        return "by hand";
    }
    return {};
}

// "26 Apr", with the year where it is not the latest one's: room is short at large text.
std::string short_date(Date day, Date latest)
{
    if (day.year() == latest.year()) return short_day_text(day, {});
    return fmt::format("{} {}", short_day_text(day, {}), static_cast<int>(day.year()));
}

// Two practices of a day are told apart by their time.
template <typename SomePoint>
std::string moment_of(const SomePoint& point, Date latest)
{
    const auto minutes = std::chrono::duration_cast<std::chrono::minutes>(
        std::chrono::duration<double, std::ratio<86400>>{point.day_part});
    return fmt::format("{}, {}", short_date(point.day, latest), time_in_words({minutes}));
}

std::string seconds_or_none(const std::optional<Seconds>& s)
{
    return s ? short_seconds(*s) : kNone;
}

std::string semitones_or_none(const std::optional<Semitones>& range)
{
    return range ? fmt::format("{:.1f}", range->value) : kNone;
}

// Calls `add` with each of the points chosen, latest first.
template <typename Points, typename Add>
void for_latest(const Points& points, Rows rows, Add add)
{
    const std::size_t end = points.size() - std::min(points.size(), rows.skipped);
    const std::size_t begin = end - std::min(end, rows.most);
    for (std::size_t i = end; i > begin; --i) add(points[i - 1]);
}

}  // namespace

TableBlock trials_table(const TimedSeries& series, Rows rows)
{
    TableBlock table{.head = {"Day", "Trial", "Hold", "Near", "Goal", "Standing"}, .rows = {}};
    for_latest(series.points, rows, [&](const TimedPoint& point) {
        table.rows.push_back({moment_of(point, series.points.back().day),
                              std::to_string(point.number), short_seconds(point.hold_time),
                              seconds_or_none(point.in_band), seconds_or_none(point.goal),
                              standing_of(point)});
    });
    return table;
}

TableBlock weeks_table(const TimedSeries& series)
{
    TableBlock table{.head = {"Week of", "Days", "Trials", "Median", "Mean", "Longest", "Near"},
                     .rows = {}};
    for (auto week = series.weeks.rbegin(); week != series.weeks.rend(); ++week)
        table.rows.push_back(
            {short_date(week->begins, series.weeks.back().begins), std::to_string(week->days),
             std::to_string(week->trials), short_seconds(week->median), seconds_or_none(week->mean),
             short_seconds(week->best), series.note ? percent_said(week->in_band_share) : kNone});
    return table;
}

TableBlock glides_table(const GlideSeries& series, Rows rows)
{
    TableBlock table{.head = {"Day", "Trial", "Range", "Breaks", "Largest", "Fry", "Standing"},
                     .rows = {}};
    for_latest(series.points, rows, [&](const GlidePoint& point) {
        table.rows.push_back({moment_of(point, series.points.back().day),
                              std::to_string(point.number), semitones_or_none(point.range),
                              std::to_string(point.breaks), semitones_or_none(point.largest_break),
                              short_seconds(point.fry), standing_of(point)});
    });
    return table;
}

TableBlock glide_weeks_table(const GlideSeries& series)
{
    TableBlock table{.head = {"Week of", "Glides", "Median range", "Breaks each", "Largest"},
                     .rows = {}};
    for (auto week = series.weeks.rbegin(); week != series.weeks.rend(); ++week)
        table.rows.push_back({short_date(week->begins, series.weeks.back().begins),
                              std::to_string(week->glides), semitones_or_none(week->range),
                              fmt::format("{:.1f}", week->breaks_per_glide),
                              semitones_or_none(week->largest_break)});
    return table;
}

TableBlock onsets_table(const Progress& progress)
{
    TableBlock table{.head = {"Week of", "Easy", "Hard", "Breathy", "Unsure"}, .rows = {}};
    for (auto week = progress.onsets.rbegin(); week != progress.onsets.rend(); ++week)
        table.rows.push_back({short_date(week->begins, progress.onsets.back().begins),
                              std::to_string(week->easy), std::to_string(week->hard),
                              std::to_string(week->breathy), std::to_string(week->unsure)});
    return table;
}

TableBlock ratings_table(const Progress& progress, Rows rows)
{
    TableBlock table{.head = {"Day", "Effort", "Discomfort", "Stopped"}, .rows = {}};
    for_latest(progress.ratings, rows, [&](const RatingPoint& point) {
        table.rows.push_back(
            {moment_of(point, progress.ratings.back().day), std::to_string(point.rating.effort),
             std::to_string(point.rating.discomfort), point.stopped_for_discomfort ? "yes" : "no"});
    });
    return table;
}

TableBlock adherence_table(const Progress& progress)
{
    TableBlock table{
        .head = {"Week from", "Asked for", "Complete", "In part", "Not that day", "By hand"},
        .rows = {}};
    for (auto week = progress.weeks.rbegin(); week != progress.weeks.rend(); ++week)
        table.rows.push_back({short_date(week->day, progress.weeks.back().day),
                              std::to_string(week->of.asked), std::to_string(week->of.complete),
                              std::to_string(week->of.partly), std::to_string(week->of.not_today),
                              std::to_string(week->of.entered_by_hand)});
    return table;
}

namespace {

const char* measure_said(NormOf of)
{
    switch (of) {
    case NormOf::phonation_time:
        return "Longest sustained vowel";
    case NormOf::s_time:
        return "Longest /s/";
    case NormOf::z_time:
        return "Longest /z/";
    case NormOf::sz_ratio:
        return "s/z ratio";
    case NormOf::speaking_f0:
        return "Speaking pitch";
    case NormOf::f0_range:
        return "Pitch range";
    }
    return "";
}

std::string whom_said(const Norm& norm)
{
    const char* sex = norm.sex == NormSex::female ? "female"
                      : norm.sex == NormSex::male ? "male"
                                                  : "both sexes";
    constexpr int kNoEnd = 120;  // years: any age from the youngest on
    if (norm.ages.oldest >= kNoEnd) return fmt::format("{}, {} and older", sex, norm.ages.youngest);
    return fmt::format("{}, {} to {}", sex, norm.ages.youngest, norm.ages.oldest);
}

}  // namespace

TableBlock norms_table()
{
    TableBlock table{.head = {"Measure", "Of", "Figures", "Who was measured", "Source"},
                     .rows = {}};
    for (const Norm& norm : norms())
        table.rows.push_back({measure_said(norm.of), whom_said(norm), in_words(norm), norm.people,
                              std::string{norm.source} +
                                  (norm.mark == NormMark::from_memory ? " (from memory)" : "")});
    return table;
}

}  // namespace holdwell
