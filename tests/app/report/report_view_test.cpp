#include "app/report/report_view.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "app/practice/cautions.h"
#include "app/practice/goals.h"
#include "tests/support/records/course.h"

namespace holdwell {
namespace {

using std::chrono::days;
using test::Course;

Date last_day(const Course& course) { return day_after(course.begins, days{course.days - 1}); }

ReportView view_of(const Course& course, const ReportOptions& options = {})
{
    const ClientFile file = test::record_of(course);
    ReportOptions given = options;
    given.made_on = last_day(course);
    return report_view(file, whole_record(file, last_day(course)), given);
}

int squares_of(const ReportAdherence& adherence, ReportSlot slot)
{
    int count = 0;
    for (const ReportWeek& week : adherence.weeks) {
        for (const auto& day : week.days) count += static_cast<int>(std::ranges::count(day, slot));
    }
    return count;
}

TEST_CASE("the report names the code alone, unless a name is typed")
{
    CHECK(view_of({.days = 7}).who == "C-104");
    CHECK(view_of({.days = 7}, {.name = "A. Example"}).who == "A. Example (C-104)");
}

TEST_CASE("each practice asked or done is a square")
{
    const Course course{.days = 56};
    const ClientFile file = test::record_of(course);
    const Adherence all = progress_of(file, whole_record(file, last_day(course))).adherence;
    const ReportAdherence shown = view_of(course).adherence;
    CHECK(shown.weeks.size() == 8);
    CHECK(squares_of(shown, ReportSlot::complete) + squares_of(shown, ReportSlot::partly) +
              squares_of(shown, ReportSlot::by_hand) ==
          all.done());
    CHECK(squares_of(shown, ReportSlot::by_hand) == all.entered_by_hand);
    CHECK(squares_of(shown, ReportSlot::not_today) == all.not_today);
}

TEST_CASE("each note has a picture of its own, all to one scale, with the goal in it")
{
    const ReportView view = view_of({.days = 56});
    std::vector<std::string> titles;
    for (const ReportPlot& plot : view.holds) {
        titles.push_back(plot.title);
        CHECK(plot.highest == view.holds[0].highest);
        CHECK(plot.goal == 18.0);
        CHECK(plot.goal_name == "goal 18 s");
        CHECK(*plot.goal <= plot.highest);
        for (const ReportPlot::Dot& dot : plot.dots) {
            CHECK(dot.value <= plot.highest);
            CHECK(dot.day >= 0.0);
            CHECK(dot.day <= view.axis.days);
        }
        CHECK(plot.trends.at(0).points.size() == 8);
    }
    CHECK(titles == std::vector<std::string>{"F4, warm-up", "C4", "D4", "E4", "F4", "G4"});
}

TEST_CASE("doubtful and lost trials are crosses")
{
    const Course course{.days = 56};
    const ClientFile file = test::record_of(course);
    const Progress progress = progress_of(file, whole_record(file, last_day(course)));
    std::ptrdiff_t crosses = 0;
    for (const ReportPlot& plot : view_of(course).holds)
        crosses += std::ranges::count(plot.dots, ReportPlot::Shape::cross, &ReportPlot::Dot::shape);
    CHECK(crosses == progress.trials_not_counted);
    CHECK(crosses > 0);
}

TEST_CASE("a set-up change stands in every picture")
{
    const ReportView view = view_of({.days = 56});
    REQUIRE(view.axis.breaks_at.size() == 1);
    CHECK(view.axis.breaks_at[0] >= 24.0);  // the course changes it after its 24th day
    CHECK(view.axis.breaks_at[0] < 28.0);
}

TEST_CASE("a long record shows weeks instead of trials, and few bars")
{
    const ReportView view = view_of({.days = 3 * 365});
    for (const ReportPlot& plot : view.holds) {
        CHECK(plot.dots.empty());
        CHECK(plot.reaches.size() >= 150);
    }
    CHECK(view.adherence.form == ReportAdherence::Form::bars);
    CHECK(view.adherence.weeks.size() <= kMostBars);
    CHECK(view.onsets.bars.size() <= kMostBars);
    CHECK(view.axis.ticks.size() <= 9);
}

TEST_CASE("every caution is there: s/z, practice aid, derived rule, no norm for drill holds")
{
    const ReportView view = view_of({.days = 14});
    CHECK(view.baseline_caution == kSzCaution);
    CHECK(view.small_print.back() == kPracticeAid);
    const auto says = [&](const char* words) {
        return std::ranges::any_of(view.small_print, [&](const std::string& line) {
            return line.find(words) != std::string::npos;
        });
    };
    CHECK(says("not itself published"));
    CHECK(says("norms of maximum phonation time do not apply"));
    CHECK(says("Dates of practice can identify a person"));
}

TEST_CASE("numbered days: no date is left anywhere")
{
    const Course course{.days = 30};
    const ClientFile file = test::record_of(course);
    const ReportView view = view_of(course, {.days = {.day_one = first_day_of(file)}});
    CHECK(view.period == "day 1 to day 31 (31 days)");
    CHECK(view.made_on == "day 31");
    CHECK_FALSE(view.made.has_value());
    CHECK(view.adherence.weeks.at(0).from == "day 2");
    CHECK(view.plan.at(0).find("2026") == std::string::npos);
}

TEST_CASE("goals that stood in the period are on the report, with how the record stands to them")
{
    const Course course{.days = 30};
    ClientFile file = test::record_of(course);
    const Period period{day_after(course.begins, days{7}), last_day(course), last_day(course)};
    const auto goal_set_on = [](Date day, double seconds) {
        ClientGoal goal;
        goal.goal.hold = Seconds{seconds};
        goal.set_on = day;
        return goal;
    };
    ClientGoal withdrawn_before = goal_set_on(course.begins, 31.0);
    withdrawn_before.withdrawn_on = day_after(course.begins, days{6});
    ClientGoal withdrawn_within = goal_set_on(course.begins, 32.0);
    withdrawn_within.withdrawn_on = day_after(course.begins, days{7});
    file.goals = {withdrawn_before, withdrawn_within, goal_set_on(course.begins, 33.0),
                  goal_set_on(day_after(last_day(course), days{1}), 34.0)};
    const auto text_of = [&](const ReportOptions& options) {
        std::string text;
        for (const std::string& line : report_view(file, period, options).measurable)
            text += line + "\n";
        return text;
    };
    const std::string text = text_of({.made_on = period.to});
    CHECK(text.find("31 s") == std::string::npos);
    CHECK(text.find("32 s") != std::string::npos);
    CHECK(text.find("33 s") != std::string::npos);
    CHECK(text.find("34 s") == std::string::npos);
    CHECK(text.find("; withdrawn " + day_text(*withdrawn_within.withdrawn_on, {})) !=
          std::string::npos);
    CHECK(text.find("Not yet met") != std::string::npos);
    const std::string numbered =
        text_of({.made_on = period.to, .days = {.day_one = first_day_of(file)}});
    CHECK(numbered.find("2026") == std::string::npos);
    CHECK(numbered.find("withdrawn day ") != std::string::npos);
}

TEST_CASE("an empty record gives a page that says so")
{
    const ClientFile file{.client = {.code = "C-9"}, .plans = {}, .practices = {}};
    const Course course;
    const ReportView view =
        report_view(file, whole_record(file, course.begins), {.made_on = course.begins});
    CHECK(view.nothing == "No practice was recorded in this period.");
    CHECK(view.plan == std::vector<std::string>{"No plan."});
    CHECK(view.holds.empty());
    CHECK_FALSE(view.chart_note.empty());
}

TEST_CASE("notes beyond nine are named as not shown")
{
    ClientFile file = test::record_of({.days = 3});
    Practice earlier = file.practices.back();
    earlier.begun.date = day_after(earlier.begun.date, days{-1});
    earlier.id.text = "earlier";
    for (std::size_t i = 0; i < earlier.trials.size(); ++i) {
        earlier.trials[i].id.text = "earlier " + std::to_string(i);
        if (earlier.trials[i].target) earlier.trials[i].target->midi += 12;
    }
    file.practices.insert(file.practices.end() - 1, earlier);
    const Date last = file.practices.back().begun.date;
    const ReportView view = report_view(file, whole_record(file, last), {.made_on = last});
    CHECK(view.holds.size() == 9);
    CHECK(view.holds_not_shown.starts_with("Practised earlier and not shown: "));
}

}  // namespace
}  // namespace holdwell
