#include "app/practice/goal_builder.h"

#include <doctest/doctest.h>

#include <array>

#include "tests/app/practice/made_practice.h"

namespace holdwell {
namespace {

using test::day;
using test::file_with;
using test::hold_of;
using test::practice_on;

MeasurableGoal twelve_seconds()
{
    return {.kind = DrillKind::warm_up_hold,
            .note = kF4,
            .sound = "/i/",
            .hold = Seconds{12.0},
            .met = 3,
            .trials = 4,
            .days = 2,
            .by = day(43)};
}

Practice four_holds(int day_number, std::array<double, 4> seconds)
{
    std::vector<Trial> trials;
    for (const double s : seconds) trials.push_back(hold_of(s));
    return practice_on(day_number, std::move(trials));
}

TEST_CASE("the goal as a sentence: who, sound, note and band, seconds, how often, by when")
{
    MeasurableGoal goal = twelve_seconds();
    CHECK(sentence_of(goal, "C-1") ==
          "C-1 will sustain /i/ at F4 (± 100 cents) for at least 12 s in 3 of 4 trials on 2 "
          "consecutive practice days, independently, by 13 April 2026.");
    goal.onset = OnsetAsked::easy;
    goal.cueing = Cueing::with_cue;
    goal.sound.clear();
    goal.days = 1;
    CHECK(sentence_of(goal, "C-1", {.day_one = day(1)}) ==
          "C-1 will sustain the practice sound at F4 (± 100 cents) for at least 12 s with an easy "
          "onset in 3 of 4 trials on 1 consecutive practice day, with a cue, by day 43.");
}

TEST_CASE("the record meets a goal on enough practice days in a row")
{
    const MeasurableGoal goal = twelve_seconds();
    const ClientFile file = file_with({
        four_holds(1, {12.0, 12.0, 12.0, 5.0}),   // 3 of 4: met
        four_holds(2, {12.0, 12.0, 11.9, 5.0}),   // 2 of 4
        four_holds(4, {12.0, 13.0, 14.0, 15.0}),  // met
        four_holds(6, {11.96, 12.0, 14.0, 5.0}),  // 11.96 is read as 12.0: met
    });
    const GoalRecord record = record_of(goal, file, whole_record(file, day(6)));
    CHECK(record.days_read == 4);
    CHECK(record.trials_read == 16);
    CHECK(record.trials_met == 12);
    CHECK(record.longest_run == 2);
    CHECK(record.present_run == 2);
    CHECK(record.met_on == day(6));
    CHECK(record.sentence ==
          "Met: 12 of 16 trials on 4 days; longest run 2 days in a row, 2 asked.");
}

TEST_CASE("three of many more trials is not three of four")
{
    const MeasurableGoal goal = twelve_seconds();
    const Practice practice =
        practice_on(1, {hold_of(12.0), hold_of(12.0), hold_of(12.0), hold_of(5.0), hold_of(5.0),
                        hold_of(5.0), hold_of(5.0), hold_of(5.0)});
    const ClientFile file = file_with({practice});
    CHECK(record_of(goal, file, whole_record(file, day(1))).longest_run == 0);
}

TEST_CASE(
    "only counted trials at that note with a band as narrow are read, and easy onsets if asked")
{
    MeasurableGoal goal = twelve_seconds();
    Practice practice = four_holds(1, {20.0, 20.0, 20.0, 20.0});
    practice.trials[0].band = Cents{200.0};
    practice.trials[1].target = Note{60};
    std::get<HoldMeasures>(practice.trials[2].measures).has_gap = true;
    const ClientFile file = file_with({practice});
    const Period period = whole_record(file, day(1));
    CHECK(record_of(goal, file, period).trials_read == 1);
    CHECK(record_of(goal, file, period).trials_met == 1);
    goal.onset = OnsetAsked::easy;
    CHECK(record_of(goal, file, period).trials_met == 0);
    goal.note = Note{72};
    CHECK(record_of(goal, file, period).sentence.starts_with("No trial of this goal yet"));
}

TEST_CASE("a goal that cannot be measured is named at its place")
{
    CHECK(faults_of(twelve_seconds()).empty());
    struct Row {
        const char* place;
        MeasurableGoal goal;
    };
    MeasurableGoal glide = twelve_seconds();
    glide.kind = DrillKind::rising_glide;
    MeasurableGoal band = twelve_seconds();
    band.band = Cents{9.0};
    MeasurableGoal hold = twelve_seconds();
    hold.hold = Seconds{121.0};
    MeasurableGoal met = twelve_seconds();
    met.met = 5;
    MeasurableGoal never = twelve_seconds();
    never.days = 0;
    for (const Row& row : {Row{"kind", glide}, Row{"band", band}, Row{"hold", hold},
                           Row{"met", met}, Row{"days", never}}) {
        CAPTURE(row.place);
        const std::vector<Fault> faults = faults_of(row.goal);
        REQUIRE(faults.size() == 1);
        CHECK(faults[0].place == row.place);
    }
}

TEST_CASE("the goal to begin from is the plan's own")
{
    Plan plan;
    plan.goal = Goal{.hold = Seconds{18.0}};
    plan.band = Cents{50.0};
    const MeasurableGoal goal = usual_goal(plan, day(1));
    CHECK(goal.kind == DrillKind::ladder_hold);
    CHECK(goal.note == Note{60});
    CHECK(goal.hold.count() == 18.0);
    CHECK(goal.band.value == 50.0);
    CHECK(goal.by == day(43));  // six weeks
    CHECK(faults_of(goal).empty());
}

}  // namespace
}  // namespace holdwell
