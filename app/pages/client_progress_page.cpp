// The client's own progress, calm: this week, each note against its goal, range and breaks.
// Pictures first, the same in words below them; nothing here grades, and a missed day is not
// mentioned.

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "app/pages/client_blocks.h"
#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/row_page.h"
#include "app/practice/drill_words.h"
#include "app/practice/progress.h"

namespace holdwell {
namespace {

constexpr int kMostDays = 56;  // shown: eight weeks, a usual plan and two more

std::string name_of_note(const NoteStanding& standing)
{
    return drill_on_note_said(standing.kind, standing.note);
}

std::string sentence_of(const NoteStanding& standing)
{
    if (!standing.last || !standing.longest) return "Not heard yet.";
    std::string text = fmt::format("{} last time, {} at the longest.",
                                   short_seconds(*standing.last), short_seconds(*standing.longest));
    if (!standing.goal) return text;
    if (rounded_to_tenth(*standing.last) >= rounded_to_tenth(*standing.goal))
        return text + fmt::format(" The goal of {} is reached.", short_seconds(*standing.goal));
    return text + fmt::format(" The goal is {}.", short_seconds(*standing.goal));
}

// How often, as one would say it of a handful of glides.
std::string breaks_said(double per_glide)
{
    if (per_glide == 0.0) return "No breaks in this week's glides.";
    if (per_glide < 0.4) return "A break now and then in this week's glides.";
    if (per_glide < 0.6) return "A break in about every second glide this week.";
    if (per_glide < 0.85) return "A break in most glides this week.";
    if (per_glide < 1.5) return "About one break in each glide this week.";
    return fmt::format("About {:.0f} breaks in each glide this week.", per_glide);
}

std::string breaks_said(const ClientReading& reading)
{
    if (!reading.breaks_per_glide) return {};
    const double now = *reading.breaks_per_glide;
    std::string text = breaks_said(now);
    const auto& before = reading.breaks_per_glide_last_week;
    if (before && now < *before) text += " Fewer than last week.";
    return text;
}

std::string glides_said(const ClientReading& reading)
{
    std::string text;
    if (reading.range)
        text = fmt::format("Your voice travels over {:.0f} semitones.", reading.range->value);
    const std::string breaks = breaks_said(reading);
    if (!breaks.empty()) text += (text.empty() ? "" : " ") + breaks;
    return text;
}

// The days shown: all of the record, or the last weeks of it.
Period period_of(const ClientFile& file, Date today)
{
    Period period = whole_record(file, today);
    const Date earliest = day_after(today, -std::chrono::days{kMostDays - 1});
    period.from = std::max(period.from, earliest);
    return period;
}

double day_in(const Period& period, Date day)
{
    return static_cast<double>(days_between(period.from, day).count());
}

// A round number above everything that is drawn.
double top_of(const ChartBlock& chart)
{
    double highest = chart.goal.value_or(0.0);
    for (const ChartBlock::Point& point : chart.points) highest = std::max(highest, point.value);
    return std::max(5.0, std::ceil(highest * 1.1 / 5.0) * 5.0);
}

ChartBlock chart_of(const TimedSeries& series, const Period& period)
{
    ChartBlock chart{.title = drill_on_note_said(series.kind, series.note),
                     .unit = std::string{"s"},
                     .size = ChartBlock::Size::small};
    for (const TimedPoint& point : series.points) {
        if (!point.counts()) continue;
        chart.points.push_back({day_in(period, point.day) + point.day_part, point.counted.count(),
                                ChartBlock::Point::Mark::filled});
    }
    // One week's median is a point, not a line.
    for (const TimedWeek& week : series.weeks) {
        if (series.weeks.size() < 2) break;
        const double middle =
            std::clamp(day_in(period, week.begins) + 3.5, 0.0, day_in(period, period.to) + 1.0);
        chart.line.push_back({middle, week.median.count(), ChartBlock::Point::Mark::filled});
    }
    if (series.goal) {
        chart.goal = series.goal->count();
        chart.goal_name = "goal " + short_seconds(*series.goal);
    }
    chart.last_value = top_of(chart);
    chart.days = std::max(7.0, day_in(period, period.to) + 1.0);
    const double today = day_in(period, period.to);
    if (today > 0.0) chart.day_names.emplace_back(0.0, short_day(period.from));
    chart.day_names.emplace_back(today, "today");
    if (series.best) chart.summary = "longest " + short_seconds(series.best->counted);
    return chart;
}

class ClientProgressPage final : public RowPage {
public:
    explicit ClientProgressPage(Id client) : client_{std::move(client)} {}

protected:
    void shown() override { wish(Ask{OpenClient{client_}}); }
    void heard(const Answer& answer) override;
    Sheet lay_out() override;

private:
    void lay_out_words(Sheet& sheet, const ClientReading& reading) const;
    void lay_out_pictures(Sheet& sheet) const;

    Id client_;
    std::optional<ClientOpened> opened_;
    std::string trouble_;
};

void ClientProgressPage::heard(const Answer& answer)
{
    const auto* opened = std::get_if<ClientOpened>(&answer);
    if (opened != nullptr && opened->file.client.id == client_) opened_ = *opened;
    const auto* refused = std::get_if<Refused>(&answer);
    if (refused != nullptr && !opened_) trouble_ = refused->sentence;
}

Sheet ClientProgressPage::lay_out()
{
    Sheet sheet;
    sheet.title = "Your progress";
    sheet.notice = trouble_;
    if (!opened_) {
        sheet.lead = trouble_.empty() ? "One moment\u2026" : "";
        return sheet;
    }
    const ClientReading reading = client_reading(opened_->file, opened_->today);
    const bool is_empty = std::ranges::none_of(
        reading.notes, [](const NoteStanding& note) { return note.longest.has_value(); });
    sheet.lead = is_empty ? "Nothing here yet: it begins with your first practice."
                          : "Days differ; what counts is the weeks.";
    if (!reading.days.empty()) sheet.add(week_block(reading, opened_->today));
    if (!is_empty) {
        lay_out_pictures(sheet);
        lay_out_words(sheet, reading);
    }
    sheet.button({.label = "Back to today", .does = "go back"}, [this] { wish(ClosePage{}); });
    return sheet;
}

void ClientProgressPage::lay_out_words(Sheet& sheet, const ClientReading& reading) const
{
    for (const NoteStanding& note : reading.notes) {
        if (note.longest) sheet.say(name_of_note(note), sentence_of(note));
    }
    const std::string glides = glides_said(reading);
    if (!glides.empty()) sheet.say("Glides", glides);
}

// /s/ and /z/ are the therapist's.
void ClientProgressPage::lay_out_pictures(Sheet& sheet) const
{
    const Period period = period_of(opened_->file, opened_->today);
    for (const TimedSeries& series : progress_of(opened_->file, period).timed) {
        if (!is_sibilant(series.kind) && !series.points.empty())
            sheet.add(chart_of(series, period));
    }
}

}  // namespace

std::unique_ptr<Page> client_progress_page(const Id& client)
{
    return make_page<ClientProgressPage>(client);
}

}  // namespace holdwell
