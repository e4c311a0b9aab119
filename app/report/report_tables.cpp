#include <algorithm>
#include <cmath>
#include <functional>

#include <fmt/format.h>

#include "app/practice/drill_words.h"
#include "app/report/report_parts.h"

namespace holdwell {

namespace {

constexpr std::size_t kMostSeries = 9;
constexpr std::size_t kMostBaselines = 4;

std::string mean_text(const std::optional<TimedWeek>& week)
{
    if (!week || !week->mean) return "–";
    return fmt::format("{:.1f} s (week {}, {} days)", week->mean->count(), week->week, week->days);
}

std::string difference_text(const Change& change)
{
    if (!change.first || !change.last) return "–";
    const double difference = change.difference.count();
    const double first = change.first->mean->count();
    return fmt::format("{}{:.1f} s ({:.0f} %)", difference < 0.0 ? "−" : "+", std::abs(difference),
                       first > 0.0 ? 100.0 * std::abs(difference) / first : 0.0);
}

int counted_trials(const TimedSeries& series)
{
    return static_cast<int>(std::ranges::count_if(
        series.points, [](const TimedPoint& point) { return point.counts(); }));
}

std::string share_text(std::optional<double> share)
{
    return share ? fmt::format("{:.0f} %", 100.0 * *share) : "–";
}

std::vector<std::string> row_of(const TimedSeries& series)
{
    const bool has_weeks = !series.weeks.empty() && series.note;
    return {
        series_name(series),
        fmt::format("{} of {}", counted_trials(series), series.points.size()),
        mean_text(series.change.first),
        mean_text(series.change.last),
        difference_text(series.change),
        series.best ? fmt::format("{:.1f} s", series.best->counted.count()) : "–",
        share_text(series.goal_share()),
        share_text(has_weeks ? std::optional{series.weeks.back().in_band_share} : std::nullopt)};
}

std::vector<std::string> row_of(const BaselineReading& baseline, const DayForm& days)
{
    const auto time = [](const std::optional<Seconds>& s, int trials) {
        return s ? fmt::format("{:.1f} s ({} trial{})", s->count(), trials, trials == 1 ? "" : "s")
                 : std::string{"–"};
    };
    return {day_text(baseline.day, days), time(baseline.s, baseline.s_trials),
            time(baseline.z, baseline.z_trials),
            baseline.ratio() ? fmt::format("{:.2f}", *baseline.ratio()) : "–"};
}

void add(ReportMix::Bar& bar, const OnsetWeek& week)
{
    bar.easy += week.easy;
    bar.hard += week.hard;
    bar.breathy += week.breathy;
    bar.unsure += week.unsure;
}

std::string easy_share(const OnsetWeek& week)
{
    return fmt::format("week {}: {:.0f} %", week.week,
                       week.all() > 0 ? 100.0 * week.easy / week.all() : 0.0);
}

}  // namespace

std::vector<const TimedSeries*> shown_series(const Progress& progress)
{
    std::vector<const TimedSeries*> series;
    for (const TimedSeries& one : progress.timed) series.push_back(&one);
    if (series.size() <= kMostSeries) return series;
    // Those practised last, in the order of the practice.
    std::vector<const TimedSeries*> latest = series;
    std::ranges::stable_sort(latest, std::greater{},
                             [](const TimedSeries* s) { return s->points.back().day; });
    latest.resize(kMostSeries);
    std::erase_if(
        series, [&](const TimedSeries* s) { return std::ranges::find(latest, s) == latest.end(); });
    return series;
}

std::string not_shown(const Progress& progress)
{
    const std::vector<const TimedSeries*> shown = shown_series(progress);
    std::string names;
    for (const TimedSeries& series : progress.timed) {
        if (std::ranges::find(shown, &series) != shown.end()) continue;
        names += (names.empty() ? "" : ", ") + series_name(series);
    }
    return names.empty() ? names : "Practised earlier and not shown: " + names + ".";
}

std::string series_name(const TimedSeries& series)
{
    if (!series.note) return name_of(series.kind);
    const std::string note = name_of(*series.note, Spelling::display);
    return series.kind == DrillKind::warm_up_hold ? note + ", warm-up" : note;
}

ReportTable hold_table(const ReportSource& source)
{
    ReportTable table;
    for (const TimedSeries* series : shown_series(*source.progress))
        table.rows.push_back(row_of(*series));
    if (!table.rows.empty())
        table.head = {"Note",       "Trials counted", "First weekly mean",    "Last weekly mean",
                      "Difference", "Longest",        "Last 7 days, of goal", "In band, last week"};
    return table;
}

ReportTable baseline_table(const ReportSource& source)
{
    ReportTable table;
    const std::vector<BaselineReading>& all = source.progress->baselines;
    for (std::size_t i = 0; i < all.size(); ++i) {
        // The first one, and the last ones.
        if (i > 0 && i + kMostBaselines - 1 < all.size()) continue;
        table.rows.push_back(row_of(all[i], source.options->days));
    }
    if (!table.rows.empty())
        table.head = {"In session", "Longest quiet /s/", "Longest /z/", "s/z ratio"};
    return table;
}

ReportMix onset_mix(const ReportSource& source)
{
    const std::vector<OnsetWeek>& weeks = source.progress->onsets;
    ReportMix mix;
    if (weeks.empty()) return mix;
    const int span = weeks.back().week - weeks.front().week + 1;
    const int in_bar = (span + kMostBars - 1) / kMostBars;
    int bar_begins = 0;
    for (const OnsetWeek& week : weeks) {
        const int begins = week.week - (week.week - weeks.front().week) % in_bar;
        if (mix.bars.empty() || begins != bar_begins)
            mix.bars.push_back({.name = fmt::format("{}", begins)});
        bar_begins = begins;
        add(mix.bars.back(), week);
    }
    mix.caption = "easy, " + easy_share(weeks.front());
    if (weeks.size() > 1) mix.caption += ", " + easy_share(weeks.back());
    return mix;
}

}  // namespace holdwell
