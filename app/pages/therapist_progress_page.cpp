#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/progress_charts.h"
#include "app/pages/progress_words.h"
#include "app/pages/row_page.h"
#include "app/practice/drill_words.h"
#include "app/practice/goals.h"
#include "app/practice/norms.h"

namespace holdwell {
namespace {

constexpr int kLatestWeeks = 2;         // day by day, before the pictures
constexpr int kAdherenceWeeks = 8;      // the same after them; older ones are in the table
constexpr std::size_t kTableRows = 60;  // a page of trials

enum class Shown { whole_record, twelve_weeks, four_weeks, two_weeks };
constexpr int kShownChoices = 4;

Period period_of(const OpenedClient& opened, Shown shown)
{
    Period period = whole_record(opened->file, opened->today);
    const auto cut_to = [&](int weeks) {
        const Date earliest = day_after(period.to, -std::chrono::days{7 * weeks - 1});
        period.from = std::max(period.from, earliest);
    };
    if (shown == Shown::twelve_weeks) cut_to(12);
    if (shown == Shown::four_weeks) cut_to(4);
    if (shown == Shown::two_weeks) cut_to(2);
    return period;
}

// Points of years would lie upon each other: then the last twelve weeks come first.
Shown usual_choice(const OpenedClient& opened)
{
    constexpr std::chrono::days kHalfYear{182};
    const Period whole = whole_record(opened->file, opened->today);
    return days_between(whole.from, whole.to) > kHalfYear ? Shown::twelve_weeks
                                                          : Shown::whole_record;
}

// ---- one level down -----------------------------------------------------------------------------

using TableOf = std::function<std::vector<PageBlock>(Rows)>;

TextBlock explained(const char* text) { return {.body = text, .weight = TextBlock::Weight::quiet}; }

class NumbersPage final : public RowPage {
public:
    NumbersPage(std::string title, std::size_t rows, TableOf table)
        : title_{std::move(title)}, rows_{rows}, table_{std::move(table)}
    {
    }

protected:
    Sheet lay_out() override;

private:
    std::string title_;
    std::size_t rows_;  // in all
    TableOf table_;
    std::size_t skipped_{0};
};

Sheet NumbersPage::lay_out()
{
    Sheet sheet;
    sheet.title = title_;
    if (rows_ > kTableRows) {
        const std::size_t last = std::min(rows_, skipped_ + kTableRows);
        sheet.lead = fmt::format("{} to {} of {}, the latest first.", skipped_ + 1, last, rows_);
        sheet.button({.label = "Older ones", .does = "show them"}, [this] {
            if (skipped_ + kTableRows < rows_) skipped_ += kTableRows;
        });
        sheet.button({.label = "Newer ones", .does = "show them"},
                     [this] { skipped_ -= std::min(skipped_, kTableRows); });
    }
    for (PageBlock& block : table_({skipped_, kTableRows})) sheet.add(std::move(block));
    sheet.button({.label = "Back to the pictures", .does = "go back"},
                 [this] { wish(ClosePage{}); });
    return sheet;
}

// ---- the pictures -------------------------------------------------------------------------------

class TherapistProgressPage final : public RowPage {
public:
    explicit TherapistProgressPage(OpenedClient opened)
        : opened_{std::move(opened)}, shown_{usual_choice(opened_)}
    {
        read();
    }

protected:
    Sheet lay_out() override;

private:
    void read()
    {
        progress_ =
            std::make_shared<Progress>(progress_of(opened_->file, period_of(opened_, shown_)));
    }
    std::string period_said() const;
    void lay_out_holds(Sheet& sheet);
    void lay_out_baseline(Sheet& sheet);
    void lay_out_glides(Sheet& sheet);
    void lay_out_onsets(Sheet& sheet);
    void lay_out_ratings(Sheet& sheet);
    void lay_out_adherence(Sheet& sheet);
    void add_numbers(Sheet& sheet, std::string title, std::size_t rows, TableOf table);

    OpenedClient opened_;
    Shown shown_;
    std::shared_ptr<const Progress> progress_;  // shared with the pages of numbers
};

std::string TherapistProgressPage::period_said() const
{
    switch (shown_) {
    case Shown::whole_record:
        return "all of it";
    case Shown::twelve_weeks:
        return "last 12 weeks";
    case Shown::four_weeks:
        return "last 4 weeks";
    case Shown::two_weeks:
        return "last 2 weeks";
    }
    return {};
}

void TherapistProgressPage::add_numbers(Sheet& sheet, std::string title, std::size_t rows,
                                        TableOf table)
{
    sheet.link({.label = "Numbers: " + title, .does = "show them"},
               [this, title, rows, table = std::move(table)] {
                   wish(OpenPage{make_page<NumbersPage>(title, rows, table)});
               });
}

void TherapistProgressPage::lay_out_holds(Sheet& sheet)
{
    const auto progress = progress_;
    for (const TimedSeries& series : progress->timed)
        if (!series.points.empty()) sheet.add(hold_chart(series, *progress));
    sheet.say("", kHowPointsAreMarked, TextBlock::Weight::quiet);
    for (const TimedSeries& series : progress->timed) {
        if (series.points.empty()) continue;
        add_numbers(sheet, drill_on_note_said(series.kind, series.note), series.points.size(),
                    [progress, &series](Rows rows) -> std::vector<PageBlock> {
                        return {explained(kHowHoldsAreCounted), weeks_table(series),
                                trials_table(series, rows)};
                    });
    }
    const std::string changes = changes_in_words(*progress);
    if (changes.empty()) return;
    sheet.say("Change", changes);
    sheet.say("", kHowChangeIsFound, TextBlock::Weight::quiet);
}

// The s/z ratio stands here and on the report, and on no page that a client is led to.
void TherapistProgressPage::lay_out_baseline(Sheet& sheet)
{
    if (progress_->baselines.empty()) {
        sheet.say("Quiet /s/ in session",
                  "None in these days. The client's page has the button for three quiet /s/.");
    } else {
        sheet.add(baseline_chart(*progress_));
        sheet.say("Longest of each session", baselines_said(*progress_));
        sheet.say("", kSzCaution, TextBlock::Weight::quiet);
    }
    add_numbers(sheet, "published figures to see a baseline beside", 0,
                [](Rows) -> std::vector<PageBlock> {
                    return {TextBlock{.body = kNormCaution}, norms_table()};
                });
}

void TherapistProgressPage::lay_out_glides(Sheet& sheet)
{
    const auto progress = progress_;
    for (const GlideSeries& series : progress->glides) {
        if (series.points.empty()) continue;
        sheet.add(range_chart(series, *progress));
        sheet.add(breaks_chart(series, *progress));
    }
    for (const GlideSeries& series : progress->glides) {
        if (series.points.empty()) continue;
        add_numbers(sheet,
                    series.direction == GlideDirection::up ? "rising glides" : "falling glides",
                    series.points.size(), [progress, &series](Rows rows) -> std::vector<PageBlock> {
                        return {explained(kHowGlidesAreCounted), glide_weeks_table(series),
                                glides_table(series, rows)};
                    });
    }
}

void TherapistProgressPage::lay_out_onsets(Sheet& sheet)
{
    const auto progress = progress_;
    if (!progress->fry.empty()) sheet.add(fry_chart(*progress));
    for (SharesBlock& shares : onset_shares(*progress)) sheet.add(std::move(shares));
    if (!progress->onsets.empty()) {
        sheet.say("", "Onsets are hints of the program, counted as it named them.",
                  TextBlock::Weight::quiet);
        add_numbers(sheet, "onsets by week", 0, [progress](Rows) -> std::vector<PageBlock> {
            return {onsets_table(*progress)};
        });
    }
    const std::string set_ups = set_ups_said(*progress);
    if (!set_ups.empty()) sheet.say("Set-up", set_ups);
}

void TherapistProgressPage::lay_out_ratings(Sheet& sheet)
{
    const auto progress = progress_;
    if (progress->ratings.empty()) return;
    sheet.add(rating_chart(RatingOf::effort, *progress));
    sheet.add(rating_chart(RatingOf::discomfort, *progress));
    add_numbers(sheet, "effort and discomfort", progress->ratings.size(),
                [progress](Rows rows) -> std::vector<PageBlock> {
                    return {ratings_table(*progress, rows)};
                });
}

void TherapistProgressPage::lay_out_adherence(Sheet& sheet)
{
    DaysBlock days = adherence_days(*progress_, kAdherenceWeeks);
    if (days.days.size() > static_cast<std::size_t>(kLatestWeeks) * 7) {
        sheet.say("Days of practice", "");
        sheet.add(std::move(days));
    }
    add_numbers(sheet, "adherence by week", 0,
                [progress = progress_](Rows) -> std::vector<PageBlock> {
                    return {adherence_table(*progress)};
                });
}

Sheet TherapistProgressPage::lay_out()
{
    Sheet sheet;
    sheet.title = "Progress";
    sheet.lead =
        fmt::format("{}, {} to {}", shortened(opened_->file.client.code, 40),
                    day_in_words(progress_->period.from), day_in_words(progress_->period.to));
    sheet.value({.label = "Shown", .value = period_said()}, [this](int by) {
        shown_ =
            static_cast<Shown>((static_cast<int>(shown_) + by + kShownChoices) % kShownChoices);
        read();
    });
    DaysBlock days = adherence_days(*progress_, kLatestWeeks);
    days.summary = adherence_said(progress_->adherence);
    if (progress_->practices == 0) {
        sheet.say("Nothing in these days", days.summary);
        lay_out_baseline(sheet);
        return sheet;
    }
    sheet.add(std::move(days));
    lay_out_holds(sheet);
    lay_out_baseline(sheet);
    lay_out_glides(sheet);
    lay_out_onsets(sheet);
    lay_out_ratings(sheet);
    lay_out_adherence(sheet);
    sheet.key({"R", "report", 'R'}, [this] { wish(OpenPage{report_page(opened_)}); });
    return sheet;
}

}  // namespace

std::unique_ptr<Page> therapist_progress_page(const OpenedClient& opened)
{
    return make_page<TherapistProgressPage>(opened);
}

}  // namespace holdwell
