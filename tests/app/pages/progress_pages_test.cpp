// What the therapist's pictures and tables take from a record. Counts are made anew here, from the
// practices themselves.

#include <doctest/doctest.h>

#include <algorithm>

#include "app/pages/pages.h"
#include "app/pages/progress_charts.h"
#include "app/pages/progress_words.h"
#include "app/practice/goals.h"
#include "tests/support/desk/desk_cases.h"
#include "tests/support/desk/desk_pages.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

Progress whole_progress(const OpenedClient& opened)
{
    return progress_of(opened->file, whole_record(opened->file, opened->today));
}

std::size_t trials_of_kind(const OpenedClient& opened, DrillKind kind, std::optional<Note> note)
{
    std::size_t count = 0;
    for (const Practice& practice : opened->file.practices)
        for (const Trial& trial : practice.trials)
            if (trial.kind == kind && trial.target == note) ++count;
    return count;
}

std::unique_ptr<Page> opened_numbers(Page& page, const std::string& label)
{
    REQUIRE(do_at(page, label) == Found::yes);
    auto opened = wishes_of<OpenPage>(page);
    REQUIRE(opened.size() == 1);
    return std::move(opened[0].page);
}

}  // namespace

TEST_CASE("every trial of a drill is a point of its picture")
{
    const OpenedClient opened = eight_weeks();
    const Progress progress = whole_progress(opened);
    int looked_at = 0;
    for (const TimedSeries& series : progress.timed) {
        if (series.points.empty() || !series.note) continue;
        CHECK(hold_chart(series, progress).points.size() ==
              trials_of_kind(opened, series.kind, series.note));
        ++looked_at;
    }
    CHECK(looked_at == 6);
}

TEST_CASE("a goal stands in the picture with its name, and a set-up change as a break")
{
    const Progress progress = whole_progress(eight_weeks());
    REQUIRE_FALSE(progress.timed.empty());
    const ChartBlock chart = hold_chart(progress.timed.front(), progress);
    CHECK(chart.goal == 18.0);
    CHECK(chart.goal_name == "goal 18 s");
    CHECK(chart.breaks_at.size() == progress.set_ups.size());
    CHECK(progress.set_ups.size() == 1);
}

TEST_CASE("points that do not count are marked otherwise")
{
    Progress progress;
    progress.period = {.from = kDeskToday, .to = kDeskToday, .today = kDeskToday};
    TimedSeries series;
    TimedPoint point;
    point.day = kDeskToday;
    series.points = {point, point, point, point};
    series.points[1].source = TrialSource::in_session;
    series.points[2].source = TrialSource::by_hand;
    series.points[3].mark = TrialMark::samples_lost;
    const ChartBlock chart = hold_chart(series, progress);
    using Mark = ChartBlock::Point::Mark;
    CHECK(chart.points[0].mark == Mark::filled);
    CHECK(chart.points[1].mark == Mark::open);
    CHECK(chart.points[2].mark == Mark::cross);
    CHECK(chart.points[3].mark == Mark::cross);
}

TEST_CASE("axes end at round figures")
{
    CHECK(axis_end_for(0.0) == 5.0);
    CHECK(axis_end_for(5.0) == 5.0);
    CHECK(axis_end_for(5.1) == 10.0);
    CHECK(axis_end_for(40.0) == 40.0);
    CHECK(axis_end_for(40.1) == 50.0);
}

TEST_CASE("days below a picture begin with its first day and do not crowd")
{
    for (const int days : {1, 7, 14, 57, 365, 1095}) {
        CAPTURE(days);
        const Period period{.from = day_after(kDeskToday, -std::chrono::days{days - 1}),
                            .to = kDeskToday,
                            .today = kDeskToday};
        const auto names = day_names_of(period);
        REQUIRE_FALSE(names.empty());
        CHECK(names.front().first == 0.0);
        CHECK(names.size() <= 5);
        CHECK(names.back().first < days);
    }
}

TEST_CASE("adherence says what was asked for, done, and left for a reason")
{
    Adherence adherence;
    CHECK(adherence_said(adherence) == "No practice was asked for in these days.");
    adherence.asked = 112;
    adherence.complete = 80;
    adherence.partly = 6;
    adherence.not_today = 1;
    adherence.stopped_for_discomfort = 2;
    adherence.entered_by_hand = 3;
    CHECK(adherence_said(adherence) ==
          "86 of 112 practices asked for (77 %): 80 complete, 6 in part. 1 was put off "
          "after the questions beforehand. 2 were stopped for discomfort. 3 were entered by hand.");
}

TEST_CASE("more practices than were asked for are no share of them")
{
    Adherence adherence;
    adherence.asked = 41;
    adherence.complete = 123;
    adherence.partly = 4;
    CHECK(adherence_said(adherence) ==
          "127 practices, 41 asked for by the plan: 123 complete, 4 in part.");
}

TEST_CASE("a change is said with its reason and beside the rule it follows")
{
    const auto page = therapist_progress_page(eight_weeks());
    const std::string words = words_of(page->view());
    for (const TimedSeries& series : whole_progress(eight_weeks()).timed)
        if (series.note) CHECK(words.find(series.change.reason) != std::string::npos);
    CHECK(words.find("5 s and 20 %") != std::string::npos);
    CHECK(words.find("not published itself") != std::string::npos);
}

TEST_CASE("an s/z ratio stands with its caution, and a high one asks to measure again")
{
    Progress progress;
    BaselineReading reading;
    reading.day = kDeskToday;
    reading.s = Seconds{20.0};
    reading.z = Seconds{16.0};
    reading.s_trials = reading.z_trials = 3;
    progress.baselines = {reading};
    CHECK(baselines_said(progress) ==
          "26 April 2026: /s/ 20 s (3 trials), /z/ 16 s (3 trials), s/z 1.25");
    progress.baselines[0].z = Seconds{10.0};  // 2.0, above 1.4 (Eckel and Boone 1981)
    CHECK(baselines_said(progress).find("2.00. ") != std::string::npos);
    const auto page = therapist_progress_page(eight_weeks());
    CHECK(words_of(page->view()).find(kSzCaution) != std::string::npos);
}

TEST_CASE("numbers stand one level down, the latest first, every one within reach")
{
    const OpenedClient opened = eight_weeks();
    const auto page = therapist_progress_page(opened);
    const auto numbers = opened_numbers(*page, "Numbers: Warm-up hold on F4");
    const std::size_t all = trials_of_kind(opened, DrillKind::warm_up_hold, kF4);
    std::size_t seen = 0;
    for (int turn = 0; turn < 20; ++turn) {
        for (const PageBlock& block : numbers->view().blocks)
            if (const auto* table = std::get_if<TableBlock>(&block);
                table != nullptr && table->head.size() > 1 && table->head[1] == "Trial")
                seen += table->rows.size();
        const std::string before = numbers->view().lead;
        do_at(*numbers, "Older ones");
        if (numbers->view().lead == before) break;
    }
    CHECK(seen == all);
}

TEST_CASE("three years begin with their last twelve weeks and can be shown whole")
{
    const OpenedClient opened = three_years();
    const auto page = therapist_progress_page(opened);
    REQUIRE(value_at(*page, "Shown"));
    CHECK(value_at(*page, "Shown") == "last 12 weeks");
    go_to(*page, "Shown");
    press(*page, PressKey::Key::left);
    CHECK(value_at(*page, "Shown") == "all of it");
}

TEST_CASE("an empty record says so and offers nothing to compare")
{
    const std::string words = words_of(therapist_progress_page(nothing_yet())->view());
    CHECK(words.find("Nothing in these days") != std::string::npos);
    CHECK(words.find("Change") == std::string::npos);
}

TEST_CASE("whole rows of seven days are shown, the last of them today")
{
    const DaysBlock days = adherence_days(whole_progress(eight_weeks()), 8);
    CHECK(days.days.size() == 56);
    CHECK(days.days.back().is_today);
    CHECK(adherence_days(whole_progress(nothing_yet()), 8).days.size() == 7);
}
