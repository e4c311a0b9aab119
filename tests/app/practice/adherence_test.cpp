#include <doctest/doctest.h>

#include "app/practice/progress.h"
#include "app/practice/taper.h"
#include "tests/app/practice/made_practice.h"

namespace holdwell {
namespace {

using test::day;
using test::file_with;
using test::hold_of;
using test::practice_on;

Practice ended(int day_number, Completion completion, PracticeKind kind = PracticeKind::at_home)
{
    Practice practice = practice_on(day_number, {hold_of(9.0)});
    practice.id.text += " again";
    practice.trials[0].id.text += " again";
    practice.completion = completion;
    practice.kind = kind;
    return practice;
}

TEST_CASE("adherence: what was done of what the plan asks, each kind told apart")
{
    Practice not_today = ended(3, Completion::not_today);
    not_today.trials.clear();
    Practice left_empty = ended(6, Completion::under_way);
    left_empty.trials.clear();
    const ClientFile file = file_with({
        practice_on(1, {hold_of(9.0)}),
        ended(1, Completion::complete),
        ended(2, Completion::partial),
        not_today,
        ended(4, Completion::complete, PracticeKind::entered_by_hand),
        ended(5, Completion::stopped_for_discomfort),
        left_empty,
        ended(6, Completion::complete, PracticeKind::in_session),
        practice_on(7, {hold_of(9.0)}),
    });
    const Progress progress = progress_of(file, whole_record(file, day(7)));
    // Twice on six days that are over; on the seventh, as far as it is done.
    CHECK(progress.adherence == Adherence{.asked = 13,
                                          .complete = 4,
                                          .partly = 2,
                                          .not_today = 1,
                                          .stopped_for_discomfort = 1,
                                          .entered_by_hand = 1});
    REQUIRE(progress.days.size() == 7);
    CHECK(progress.days[0].of.done() == 2);
    CHECK(progress.days[2].of.done() == 0);
    CHECK(progress.days[5].of == Adherence{.asked = 2});
    REQUIRE(progress.weeks.size() == 1);
    CHECK(progress.weeks[0].of == progress.adherence);
}

TEST_CASE("nothing is asked before the first practice at home, nor after the plan's weeks")
{
    ClientFile file = file_with({practice_on(3, {hold_of(9.0)})});
    file.plans[0].weeks = 1;
    const Progress progress = progress_of(file, {day(1), day(20), day(21)});
    CHECK(progress.days[1].of.asked == 0);
    CHECK(progress.days[2].of.asked == 2);  // day 3
    CHECK(progress.days[8].of.asked == 2);  // day 9, the seventh
    CHECK(progress.days[9].of.asked == 0);  // day 10
    CHECK(progress.adherence.asked == 14);
}

TEST_CASE("the revision of the day says what is asked, and a taper what is asked of a week")
{
    ClientFile file = file_with({practice_on(1, {hold_of(9.0)})});
    Plan tapered = file.plans[0];
    tapered.revision = 2;
    tapered.written = day(8);
    tapered.taper = usual_taper(tapered.drills);
    // The step of three practices a week.
    for (std::size_t i = 0; i < tapered.taper.steps.size(); ++i) {
        if (tapered.taper.steps[i].practices_a_week == 3)
            tapered.taper_step = static_cast<int>(i) + 1;
    }
    REQUIRE(tapered.taper_step > 0);
    file.plans.push_back(tapered);
    const Progress progress = progress_of(file, {day(1), day(28), day(29)});
    REQUIRE(progress.weeks.size() == 4);
    CHECK(progress.weeks[0].of.asked == 14);
    CHECK(progress.weeks[1].of.asked == 3);
    CHECK(progress.weeks[3].of.asked == 3);
    CHECK(plan_in_force(file, day(7))->revision == 1);
    CHECK(plan_in_force(file, day(8))->revision == 2);
    CHECK(plan_in_force(file, day(-5))->revision == 1);
}

TEST_CASE("a plan handed over takes over from the one before, whenever it was written")
{
    Plan first_start;
    first_start.id = Id{"a"};
    first_start.written = day(1);
    Plan therapists;
    therapists.id = Id{"b"};
    therapists.written = day(1);
    ClientFile file{.client = {.code = "C-3"}, .plans = {first_start, therapists}, .practices = {}};
    CHECK(plan_in_force(file, day(1))->id == therapists.id);
    file.plans[1].written = day(-3);
    CHECK(plan_in_force(file, day(1))->id == therapists.id);
    CHECK(plan_in_force(file, day(30))->id == therapists.id);
    // Before either was written: the first that there was.
    CHECK(plan_in_force(file, day(-9))->id == first_start.id);
}

TEST_CASE("a record without anything reads as a week of nothing")
{
    const ClientFile file{.client = {.code = "C-2"}, .plans = {}, .practices = {}};
    const Progress progress = progress_of(file, whole_record(file, day(7)));
    CHECK(progress.period == Period{day(1), day(7), day(7)});
    CHECK(progress.adherence == Adherence{});
    CHECK(progress.days.size() == 7);
    CHECK_FALSE(progress.day_one.has_value());
    CHECK(progress.timed.empty());
    CHECK_FALSE(plan_in_force(file, day(1)).has_value());
    const ClientReading reading = client_reading(file, day(7));
    CHECK(reading.week == 1);
    CHECK(reading.days.size() == 7);
    CHECK(reading.asked == 0);
}

TEST_CASE("the client reads the whole of her week, days ahead included")
{
    ClientFile file = file_with({practice_on(1, {hold_of(9.0), hold_of(11.0)}),
                                 practice_on(8, {hold_of(12.0), hold_of(15.0)}),
                                 practice_on(9, {hold_of(10.0), hold_of(12.0)})});
    file.plans[0].goal = Goal{.hold = Seconds{14.0}};
    const ClientReading reading = client_reading(file, day(9));
    CHECK(reading.week == 2);
    REQUIRE(reading.days.size() == 7);
    CHECK(reading.days[0].day == day(8));
    CHECK(reading.days[6].of.asked == 2);
    CHECK(reading.done == 2);
    CHECK(reading.asked == 14);
    REQUIRE(reading.notes.size() == 1);
    CHECK(reading.notes[0].last->count() == 11.0);  // mean of 10 and 12
    CHECK(reading.notes[0].longest->count() == 15.0);
    CHECK(reading.notes[0].longest_on == day(8));
    CHECK(reading.notes[0].goal->count() == 14.0);
}

TEST_CASE("the client reads her breaks beside those of the week before")
{
    const ClientFile file =
        file_with({practice_on(1, {test::glide_of(12.0, 3), test::glide_of(12.0, 2)}),
                   practice_on(8, {test::glide_of(15.0, 1), test::glide_of(17.0, 0)})});
    const ClientReading reading = client_reading(file, day(8));
    CHECK(*reading.breaks_per_glide == 0.5);
    CHECK(*reading.breaks_per_glide_last_week == 2.5);
    CHECK(reading.range->value == doctest::Approx(16.0));
    // A week later nothing is new: the last range stays, the breaks of last week are those.
    const ClientReading later = client_reading(file, day(15));
    CHECK_FALSE(later.breaks_per_glide.has_value());
    CHECK(*later.breaks_per_glide_last_week == 0.5);
    CHECK(later.range->value == doctest::Approx(16.0));
}

}  // namespace
}  // namespace holdwell
