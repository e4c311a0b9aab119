#include "app/practice/counting.h"
#include "app/practice/taper.h"

#include <doctest/doctest.h>

#include "tests/support/records/plan_examples.h"

namespace holdwell {
namespace {

using std::chrono::days;

const Date kMonday{std::chrono::year{2026}, std::chrono::March, std::chrono::day{2}};

// A warm-up hold and two notes, each twice; goal 20 s.
Plan small_plan()
{
    Plan plan = test::usual_plan();
    plan.id.text = "0123456789abcdef0123456789abcdef";
    plan.voice = {.set = VoiceSet::own, .warm_up = kF4, .ladder = {Note{60}, Note{62}}};
    plan.drills = {{DrillKind::warm_up_hold, 2}, {DrillKind::ladder_hold, 2}};
    plan.goal = Goal{.hold = Seconds{20.0}};
    plan.taper = usual_taper(plan.drills);
    return plan;
}

// What one practice holds: the same time for every trial but where it is changed.
Practice practised(const Plan& plan, Date date, double hold_s)
{
    Practice practice{.plan = plan.id, .taper_step = plan.taper_step};
    practice.begun.date = date;
    for (const PlannedTrial& planned : trials_of(plan))
        practice.trials.push_back({.kind = planned.drill.kind,
                                   .target = planned.drill.target,
                                   .repetition = planned.repetition,
                                   .measures = HoldMeasures{.hold_time = Seconds{hold_s}}});
    return practice;
}

HoldMeasures& hold_in(Practice& practice, std::size_t trial)
{
    return std::get<HoldMeasures>(practice.trials[trial].measures);
}

std::vector<Practice> daily(const Plan& plan, std::initializer_list<double> holds_s)
{
    std::vector<Practice> practices;
    Date date = kMonday;
    for (const double hold_s : holds_s) {
        practices.push_back(practised(plan, date, hold_s));
        date = day_after(date, days{1});
    }
    return practices;
}

}  // namespace

TEST_CASE("the usual taper is the taught one")
{
    struct Row {
        std::size_t drills;
        int repetitions;
        int practices_a_week;
    };
    // Textbook chapters on the routine, from memory: after the full plan (all items, 2 each, twice
    // a day) a week each of: all, 2, daily; all, 1, daily; the five notes alone, 2, daily; 1,
    // daily; 1, three a week; 1, one a week.
    const Row rows[] = {{4, 2, 7}, {4, 1, 7}, {1, 2, 7}, {1, 1, 7}, {1, 1, 3}, {1, 1, 1}};
    const Taper taper = usual_taper(test::usual_plan().drills);
    REQUIRE(taper.steps.size() == std::size(rows));
    for (std::size_t i = 0; i < std::size(rows); ++i) {
        CAPTURE(i);
        const TaperStep& step = taper.steps[i];
        CHECK(step.drills.size() == rows[i].drills);
        CHECK(step.practices_a_week == rows[i].practices_a_week);
        CHECK(step.days == 7);
        for (const PlannedDrill& drill : step.drills) {
            CHECK(drill.repetitions == rows[i].repetitions);
            if (rows[i].drills == 1) CHECK(drill.kind == DrillKind::ladder_hold);
        }
    }
    CHECK(taper.keep_share == 0.85);  // 85 % of the goal is to be kept: the same chapters
}

TEST_CASE("a plan without a ladder, or without any hold, has a taper that can be practised")
{
    for (const DrillKind kind : {DrillKind::warm_up_hold, DrillKind::rising_glide}) {
        Plan plan = test::usual_plan();
        plan.drills = {{kind, 3}};
        plan.taper = usual_taper(plan.drills);
        CHECK(faults_of(plan).empty());
        CHECK(plan.taper.steps.back().drills.at(0).kind == kind);
    }
}

TEST_CASE("the taper is offered once every hold met its goal on as many days as the plan asks")
{
    const Plan plan = small_plan();  // three days
    struct Row {
        const char* name;
        std::vector<Practice> practices;
        TaperMove move;
        int days_met;
    };
    const Row rows[] = {
        {"nothing yet", {}, TaperMove::stay, 0},
        {"two days", daily(plan, {20.0, 21.0}), TaperMove::stay, 2},
        {"three days", daily(plan, {20.0, 21.0, 20.0}), TaperMove::next_step, 3},
        {"a day below between", daily(plan, {22.0, 22.0, 19.9, 22.0, 22.0}), TaperMove::stay, 2},
        {"below at last", daily(plan, {22.0, 22.0, 22.0, 19.9}), TaperMove::stay, 0}};
    for (const Row& row : rows) {
        CAPTURE(row.name);
        const TaperAdvice advice = taper_advice(plan, row.practices, day_after(kMonday, days{6}));
        CHECK(advice.move == row.move);
        CHECK(advice.days_met == row.days_met);
        CHECK_FALSE(advice.reasoning.empty());
    }
}

TEST_CASE("one note below its goal keeps the taper from being offered, whatever the others do")
{
    const Plan plan = small_plan();
    auto practices = daily(plan, {30.0, 30.0, 30.0});
    hold_in(practices[2], 4).hold_time = Seconds{15.0};  // D4, first time
    hold_in(practices[2], 5).hold_time = Seconds{24.0};  // D4, second: mean 19.5 s
    CHECK(taper_advice(plan, practices, day_after(kMonday, days{3})).move == TaperMove::stay);
    hold_in(practices[2], 5).hold_time = Seconds{25.0};  // mean 20 s
    CHECK(taper_advice(plan, practices, day_after(kMonday, days{3})).move == TaperMove::next_step);
}

TEST_CASE("holds with lost samples or in doubt do not count, and a day without a hold says nothing")
{
    const Plan plan = small_plan();
    auto practices = daily(plan, {25.0, 25.0, 25.0, 25.0});
    hold_in(practices[3], 0).has_gap = true;
    hold_in(practices[3], 1).doubt = Doubt::several_sounds;
    const TaperAdvice advice = taper_advice(plan, practices, day_after(kMonday, days{3}));
    CHECK(advice.days_met == 3);
    CHECK(time_towards_goal(hold_in(practices[3], 0), HoldCounts::all_phonation) == std::nullopt);
    CHECK(time_towards_goal(hold_in(practices[3], 1), HoldCounts::all_phonation) == std::nullopt);
}

TEST_CASE("where only time in the band counts, only that is held against the goal")
{
    Plan plan = small_plan();
    plan.counts = HoldCounts::in_band_only;
    auto practices = daily(plan, {25.0, 25.0, 25.0});
    CHECK(taper_advice(plan, practices, day_after(kMonday, days{3})).days_met == 0);
    for (Practice& practice : practices)
        for (std::size_t i = 0; i < practice.trials.size(); ++i)
            hold_in(practice, i).in_band = Seconds{20.0};
    CHECK(taper_advice(plan, practices, day_after(kMonday, days{3})).days_met == 3);
}

TEST_CASE("practices of other plans, before the goal, in session or typed in are not looked at")
{
    Plan plan = small_plan();
    auto practices = daily(plan, {25.0, 25.0, 25.0});
    const Date today = day_after(kMonday, days{3});
    plan.goal->set_on = day_after(kMonday, days{1});
    CHECK(taper_advice(plan, practices, today).days_met == 2);
    practices[2].kind = PracticeKind::in_session;
    CHECK(taper_advice(plan, practices, today).days_met == 1);
    practices[2].kind = PracticeKind::entered_by_hand;
    CHECK(taper_advice(plan, practices, today).days_met == 1);
    plan.id.text.back() = '0';
    CHECK(taper_advice(plan, practices, today).days_met == 0);
}

TEST_CASE("within the taper 85 percent is kept, or one step back is suggested")
{
    Plan plan = small_plan();
    plan.taper_step = 1;
    struct Row {
        std::vector<Practice> practices;
        TaperMove move;
        const char* said;
    };
    // Share of the goal of 20 s, by hand.
    const Row rows[] = {
        {daily(plan, {17.0, 17.0}), TaperMove::stay, "Too few days"},
        {daily(plan, {16.4, 16.4, 16.4}), TaperMove::step_back, "82 %"},
        {daily(plan, {16.99, 16.99, 16.99}), TaperMove::step_back, "84 %"},
        {daily(plan, {17.0, 17.0, 17.0}), TaperMove::stay, "day 6"},
        {daily(plan, {17.0, 17.0, 17.0, 17.0, 17.0, 17.0}), TaperMove::stay, "85 %"}};
    for (const Row& row : rows) {
        CAPTURE(row.said);
        const TaperAdvice advice = taper_advice(plan, row.practices, day_after(kMonday, days{5}));
        CHECK(advice.move == row.move);
        CHECK(advice.reasoning.find(row.said) != std::string::npos);
    }
    // A week at the step.
    const auto week = daily(plan, {18.0, 18.0, 18.0, 18.0, 18.0, 18.0, 18.0});
    CHECK(taper_advice(plan, week, day_after(kMonday, days{6})).move == TaperMove::next_step);
}

TEST_CASE("at one practice a week that one is enough to judge by, and the last step leads nowhere")
{
    Plan plan = small_plan();
    plan.taper_step = 6;
    const std::vector<Practice> practices{practised(plan, kMonday, 10.0),
                                          practised(plan, day_after(kMonday, days{7}), 19.0)};
    // The last seven days begin on the day after the first of them.
    const TaperAdvice advice = taper_advice(plan, practices, day_after(kMonday, days{7}));
    CHECK(advice.move == TaperMove::stay);
    CHECK(advice.goal_share == doctest::Approx(0.95));
    CHECK(advice.reasoning.find("last step") != std::string::npos);
}

TEST_CASE("an earlier stay at the same step does not count once it was left")
{
    Plan plan = small_plan();
    plan.taper_step = 1;
    auto practices = daily(plan, {20.0, 20.0, 20.0, 20.0});
    practices[2].taper_step = 2;
    const TaperAdvice advice = taper_advice(plan, practices, day_after(kMonday, days{3}));
    CHECK(advice.move == TaperMove::stay);
    CHECK(advice.reasoning.find("Too few days") != std::string::npos);
}

TEST_CASE("without a goal nothing is to be kept")
{
    Plan plan = small_plan();
    plan.goal.reset();
    const auto advice = taper_advice(plan, daily(plan, {25.0, 25.0, 25.0}), kMonday);
    CHECK(advice.move == TaperMove::stay);
    CHECK(advice.days_met == 0);
}

}  // namespace holdwell
