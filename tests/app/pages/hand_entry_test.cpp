// A practice that was noted on paper: what may be typed, what it makes, and how it is kept.

#include "app/pages/hand_entry.h"

#include <doctest/doctest.h>

#include "app/pages/pages.h"
#include "tests/app/pages/files_parts.h"
#include "tests/support/desk/desk_cases.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

Plan every_drill()
{
    Plan plan;
    plan.goal = Goal{.hold = Seconds{18.0}, .set_on = kDeskToday, .reasoning = {}};
    plan.voice.ladder = {Note{60}, Note{67}};
    plan.drills = {{DrillKind::warm_up_hold, 2},  {DrillKind::rising_glide, 3},
                   {DrillKind::falling_glide, 1}, {DrillKind::ladder_hold, 2},
                   {DrillKind::s_hold, 3},        {DrillKind::z_hold, 1},
                   {DrillKind::warm_up_hold, 1}};  // once more at the end: one line all the same
    return plan;
}

Client a_client()
{
    Client client;
    client.id = kFilesClient;
    return client;
}

}  // namespace

TEST_CASE("every drill of the plan can be noted, each at one line")
{
    const HandEntry entry = blank_entry(every_drill(), kDeskToday);
    REQUIRE(entry.lines.size() == 7);
    CHECK(entry.lines[0].kind == DrillKind::warm_up_hold);
    CHECK(entry.lines[1].kind == DrillKind::rising_glide);
    CHECK_FALSE(entry.lines[1].note);
    CHECK(entry.lines[4].note == Note{67});
    CHECK(entry.lines[6].kind == DrillKind::z_hold);
    CHECK(practice_of(entry, a_client(), every_drill()).trials.empty());
}

TEST_CASE("a practice noted on paper becomes one with what was noted and nothing more")
{
    const Plan plan = every_drill();
    HandEntry entry = blank_entry(plan, kDeskToday);
    entry.day = "2026-04-20";
    entry.time = "8:05";
    entry.lines[0].typed = "12.5 14";
    entry.lines[1].glides = 2;
    entry.lines[1].typed = "0 3";
    entry.lines[2].glides = 1;  // nobody counted its breaks
    entry.lines[4].typed = "9,5; 10";
    entry.lines[5].typed = "19.4";
    entry.lines[6].typed = "21";
    entry.effort = 3;
    entry.discomfort = 0;
    REQUIRE(is_sound(entry, kDeskToday));
    const Practice practice = practice_of(entry, a_client(), plan);
    CHECK(practice.kind == PracticeKind::entered_by_hand);
    CHECK(practice.begun.time.since_midnight.count() == 485);
    CHECK(practice.rating == SelfRating{3, 0});
    REQUIRE(practice.trials.size() == 9);
    for (std::size_t i = 0; i < practice.trials.size(); ++i)
        CHECK(practice.trials[i].number == static_cast<int>(i) + 1);

    const auto hold_in = [&](std::size_t i) {
        return std::get<HoldMeasures>(practice.trials[i].measures);
    };
    CHECK(hold_in(0).hold_time.count() == doctest::Approx(12.5));
    CHECK_FALSE(hold_in(0).in_band);
    CHECK(practice.trials[1].repetition == 2);
    CHECK(practice.trials[1].goal == Seconds{18.0});
    const auto& second = std::get<GlideMeasures>(practice.trials[3].measures);
    CHECK(second.direction == GlideDirection::up);
    CHECK(second.breaks() == 3);
    CHECK_FALSE(second.range());
    CHECK(second.length == Seconds{});
    CHECK_FALSE(practice.trials[3].goal);
    CHECK(std::get<GlideMeasures>(practice.trials[4].measures).direction == GlideDirection::down);
    CHECK(practice.trials[5].target == Note{67});
    CHECK(hold_in(5).hold_time.count() == doctest::Approx(9.5));
    CHECK(practice.trials[7].kind == DrillKind::s_hold);
    CHECK(std::get<SibilantMeasures>(practice.trials[7].measures).length.count() ==
          doctest::Approx(19.4));
    CHECK(practice.trials[8].kind == DrillKind::z_hold);
}

TEST_CASE("what was typed wrongly is said at its line")
{
    HandEntry entry = blank_entry(every_drill(), kDeskToday);
    entry.day = "2026-04-27";
    CHECK(fault_of_day(entry, kDeskToday) == "This day is still to come.");
    entry.day = "yesterday";
    CHECK_FALSE(fault_of_day(entry, kDeskToday).empty());
    entry.time = "25:00";
    CHECK_FALSE(fault_of_time(entry).empty());
    for (const char* wrong : {"0", "121", "-3", "12.5.1", "ten"}) {
        CAPTURE(wrong);
        for (const std::size_t line : {0U, 5U}) {
            entry.lines[line].typed = wrong;
            CHECK_FALSE(fault_of_line(entry.lines[line]).empty());
        }
    }
    entry.lines[0].typed = "";
    CHECK(fault_of_line(entry.lines[0]).empty());
    entry.lines[1].glides = 2;
    for (const char* wrong : {"0 1 2", "1.5", "21", "-1", "none"}) {
        CAPTURE(wrong);
        entry.lines[1].typed = wrong;
        CHECK_FALSE(fault_of_line(entry.lines[1]).empty());
    }
    for (const char* right : {"", "0", "0 20"}) {
        CAPTURE(right);
        entry.lines[1].typed = right;
        CHECK(fault_of_line(entry.lines[1]).empty());
    }
}

TEST_CASE("one rating alone says nothing of the other, and is asked about")
{
    HandEntry entry = blank_entry(every_drill(), kDeskToday);
    CHECK(fault_of_ratings(entry).empty());
    entry.effort = 4;
    CHECK_FALSE(fault_of_ratings(entry).empty());
    CHECK_FALSE(is_sound(entry, kDeskToday));
    CHECK_FALSE(practice_of(entry, a_client(), every_drill()).rating);
    entry.discomfort = 1;
    CHECK(is_sound(entry, kDeskToday));
}

TEST_CASE("a practice by hand is kept at once, and after a refusal as it is typed then")
{
    const auto page = hand_entry_page(eight_weeks());
    go_to(*page, "Warm-up hold on F4");
    type(*page, "12 13");
    go_to(*page, "Rising glide, done");
    press(*page, PressKey::Key::right);
    do_at(*page, "Keep this practice");
    auto asked = requests_of<KeepByHand>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].practice.trials.size() == 3);
    CHECK(asked[0].practice.completion == Completion::complete);
    do_at(*page, "Keeping it …");
    CHECK(requests_of<KeepByHand>(*page).empty());  // an answer is waited for
    page->hear(refused("No room on the disk."));
    CHECK(has(*page, "No room on the disk."));

    go_to(*page, "Rising glide, done");
    press(*page, PressKey::Key::left);
    do_at(*page, "Keep this practice");
    asked = requests_of<KeepByHand>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].practice.trials.size() == 2);
    page->hear(PracticeClosed{asked[0].practice, ""});
    CHECK(wishes_of<ClosePage>(*page).size() == 1);
}
