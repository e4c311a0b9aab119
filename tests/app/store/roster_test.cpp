// The roster's lines, worked out by hand.

#include <doctest/doctest.h>

#include "app/practice/progress.h"
#include "app/store/store.h"
#include "tests/support/records/random_records.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr Date kToday{std::chrono::year{2026}, std::chrono::November, std::chrono::day{25}};

struct Roster {
    Store store{std::move(Store::open_in_memory().value())};
    RandomRecords records{31};
    Client client;

    Roster()
    {
        client = records.client();
        client.code = std::string{"B"};
        REQUIRE(store.keep(client));
    }
    // A complete practice at home so many days ago, without trials or complaints.
    Practice practice(int days_ago)
    {
        Practice made;
        made.id = records.id();
        made.client = client.id;
        made.begun = {day_after(kToday, -std::chrono::days{days_ago}), {}};
        made.completion = Completion::complete;
        return made;
    }
    Trial hold(int number, Seconds held, Seconds in_band)
    {
        HoldMeasures measures;
        measures.hold_time = held;
        measures.in_band = in_band;
        Trial trial;
        trial.id = records.id();
        trial.number = number;
        trial.kind = DrillKind::ladder_hold;
        trial.measures = measures;
        return trial;
    }
    RosterLine line()
    {
        const auto lines = store.roster(kToday);
        REQUIRE(lines);
        REQUIRE(lines.value().size() == 1);
        return lines.value()[0];
    }
};

}  // namespace

TEST_CASE("a client who has done nothing yet stands in the roster with nothing done")
{
    Roster roster;
    const RosterLine line = roster.line();
    CHECK(line.client == roster.client.id);
    CHECK(line.code == "B");
    CHECK(line.standing == roster.client.standing);
    CHECK_FALSE(line.last_practice);
    CHECK(line.practices_this_week == 0);
    CHECK(line.asked_a_week == 0);
    CHECK_FALSE(line.goal_share);
    CHECK_FALSE(line.reported_discomfort);
}

TEST_CASE(
    "the week is seven days up to today, and practices count when something was practised at home")
{
    Roster roster;
    for (const int days_ago : {0, 6, 7}) {  // the last one is too long ago
        Practice complete = roster.practice(days_ago);
        complete.trials = {roster.hold(1, 5s, 5s)};
        REQUIRE(roster.store.keep(complete));
    }
    for (const Completion completion : {Completion::complete, Completion::partial}) {
        Practice by_hand = roster.practice(1);
        by_hand.kind = PracticeKind::entered_by_hand;  // nothing of it was measured
        by_hand.completion = completion;
        REQUIRE(roster.store.keep(by_hand));
    }
    Practice in_session = roster.practice(1);
    in_session.kind = PracticeKind::in_session;  // no practice at home
    REQUIRE(roster.store.keep(in_session));
    Practice partial = roster.practice(2);
    partial.completion = Completion::partial;  // without a trial
    REQUIRE(roster.store.keep(partial));
    Practice cut_off = roster.practice(3);
    cut_off.completion = Completion::under_way;
    cut_off.trials = {roster.hold(1, 5s, 5s)};
    REQUIRE(roster.store.keep(cut_off));
    Practice not_today = roster.practice(4);
    not_today.completion = Completion::not_today;
    REQUIRE(roster.store.keep(not_today));
    CHECK(roster.line().practices_this_week == 5);
    CHECK(roster.line().last_practice == kToday);
}

TEST_CASE("asked and goal are those of the plan in force, held time is counted as it says")
{
    Roster roster;
    Plan plan;
    plan.id = roster.records.id();
    plan.goal = Goal{10s, GoalOrigin::by_hand, kToday, ""};
    REQUIRE(roster.store.keep(roster.client.id, plan));
    Practice practice = roster.practice(1);
    practice.trials = {roster.hold(1, 6s, 3s), roster.hold(2, 12s, 6s), roster.hold(3, 90s, 90s),
                       roster.hold(4, 80s, 80s)};
    std::get<HoldMeasures>(practice.trials[2].measures).has_gap = true;  // does not count
    std::get<HoldMeasures>(practice.trials[3].measures).doubt = Doubt::machine;
    REQUIRE(roster.store.keep(practice));
    CHECK(roster.line().asked_a_week == 14);
    CHECK(roster.line().goal_share.value_or(0.0) == doctest::Approx((6.0 + 12.0) / 2.0 / 10.0));

    plan.revision = 2;
    plan.counts = HoldCounts::in_band_only;
    plan.practices_a_day = 1;
    REQUIRE(roster.store.keep(roster.client.id, plan));
    CHECK(roster.line().asked_a_week == 7);
    CHECK(roster.line().goal_share.value_or(0.0) == doctest::Approx((3.0 + 6.0) / 2.0 / 10.0));

    plan.revision = 3;
    plan.goal.reset();
    REQUIRE(roster.store.keep(roster.client.id, plan));
    CHECK_FALSE(roster.line().goal_share);
}

TEST_CASE("holds whose time in band was not measured divide nothing where only that counts")
{
    Roster roster;
    Plan plan;
    plan.id = roster.records.id();
    plan.goal = Goal{10s, GoalOrigin::by_hand, kToday, ""};
    plan.counts = HoldCounts::in_band_only;
    REQUIRE(roster.store.keep(roster.client.id, plan));
    Practice practice = roster.practice(1);
    practice.trials = {roster.hold(1, 6s, 4s), roster.hold(2, 12s, 6s)};
    std::get<HoldMeasures>(practice.trials[1].measures).in_band.reset();
    REQUIRE(roster.store.keep(practice));
    CHECK(roster.line().goal_share.value_or(0.0) == doctest::Approx(4.0 / 10.0));
}

TEST_CASE("roster and progress say the same of whatever record: one rule counts for both")
{
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        CAPTURE(seed);
        RandomRecords records{seed};
        Random random{seed};
        Store store = std::move(Store::open_in_memory().value());
        ClientFile file = records.file(2, 8);
        for (Plan& plan : file.plans) {
            plan.written = day_after(kToday, -std::chrono::days{random.below(20) - 5});
            plan.goal = Goal{Seconds{random.uniform(2.0, 20.0)}, GoalOrigin::by_hand, kToday, ""};
        }
        for (Practice& practice : file.practices) {
            practice.begun.date = day_after(kToday, -std::chrono::days{random.below(9)});
            if (random.below(4) == 0) practice.trials.clear();
            for (Trial& trial : practice.trials) {  // at one note: the roster has no other
                trial.kind = DrillKind::ladder_hold;
                trial.target = Note{60};
                if (!std::holds_alternative<HoldMeasures>(trial.measures))
                    trial.measures = HoldMeasures{.hold_time = 7s, .in_band = 3s};
            }
        }
        Additions all;
        all.client = file.client;
        all.plans = file.plans;
        all.practices = file.practices;
        REQUIRE(store.keep(all));
        const RosterLine line = store.roster(kToday).value().at(0);
        const Period week{day_after(kToday, -std::chrono::days{6}), kToday, kToday};
        const Progress progress = progress_of(file, week);
        CHECK(line.practices_this_week == progress.adherence.done());
        const auto share = progress.timed.empty() ? std::nullopt : progress.timed[0].goal_share();
        CHECK(line.goal_share.has_value() == share.has_value());
        CHECK(line.goal_share.value_or(0.0) == doctest::Approx(share.value_or(0.0)));
    }
}

TEST_CASE("a trial kept by itself counts as one kept with its practice")
{
    Roster roster;
    Plan plan;
    plan.id = roster.records.id();
    plan.goal = Goal{10s, GoalOrigin::by_hand, kToday, ""};
    REQUIRE(roster.store.keep(roster.client.id, plan));
    Practice practice = roster.practice(0);
    REQUIRE(roster.store.keep(practice));
    Trial trial = roster.hold(1, 4s, 4s);
    REQUIRE(roster.store.keep(practice.id, trial));
    CHECK(roster.line().goal_share.value_or(0.0) == doctest::Approx(0.4));
    std::get<HoldMeasures>(trial.measures).hold_time = 8s;  // in its own place
    REQUIRE(roster.store.keep(practice.id, trial));
    CHECK(roster.line().goal_share.value_or(0.0) == doctest::Approx(0.8));
}

TEST_CASE("discomfort of the week is seen, whichever way it was reported")
{
    const auto reported = [](const auto& change) {
        Roster roster;
        Practice practice = roster.practice(3);
        change(practice);
        REQUIRE(roster.store.keep(practice));
        return roster.line().reported_discomfort;
    };
    CHECK_FALSE(reported([](Practice&) {}));
    CHECK_FALSE(reported([](Practice& p) { p.rating = SelfRating{9, 0}; }));
    CHECK(reported([](Practice& p) { p.rating = SelfRating{0, 1}; }));
    CHECK(reported([](Practice& p) { p.completion = Completion::stopped_for_discomfort; }));
    CHECK(reported([](Practice& p) {
        p.before.pain = true;
        p.completion = Completion::not_today;
    }));
    CHECK_FALSE(reported([](Practice& p) {
        p.rating = SelfRating{0, 5};
        p.begun.date = day_after(kToday, -std::chrono::days{8});
    }));
}
