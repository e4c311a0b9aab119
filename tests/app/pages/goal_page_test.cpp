// Goals and the taper: suggested with their reasons, adopted only when she presses the button.

#include <doctest/doctest.h>

#include "app/pages/pages.h"
#include "tests/support/desk/desk_cases.h"
#include "tests/support/desk/desk_pages.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

bool has(const std::string& words, const std::string& part)
{
    return words.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("3000 mL at 80 mL/s suggest 37.5 s and nothing is adopted by itself")
{
    // Volume over flow: J. Voice 8, 271-278, 1994 (from memory); 3000 / 80 = 37.5.
    const auto page = goal_page(eight_weeks());
    go_to(*page, "Volume in mL");
    type(*page, "3000");
    CHECK(requests_of<SavePlan>(*page).empty());
    CHECK(do_at(*page, "Make 37.5 s the goal") == Found::yes);
    const auto asked = requests_of<SavePlan>(*page);
    REQUIRE(asked.size() == 1);
    REQUIRE(asked[0].plan.goal);
    CHECK(asked[0].plan.goal->hold.count() == doctest::Approx(37.5));
    CHECK(asked[0].plan.goal->origin == GoalOrigin::volume_over_flow);
    CHECK(asked[0].plan.goal->set_on == kDeskToday);
}

TEST_CASE("4000 mL at 100 mL/s suggest 40 s")
{
    // The variant that divides by 100 mL/s, read on a clinical handout: 4000 mL, 40 s.
    const auto page = goal_page(eight_weeks());
    go_to(*page, "Volume in mL");
    type(*page, "4000");
    go_to(*page, "Divided by a flow of");
    press(*page, PressKey::Key::right, 9);
    CHECK(go_to(*page, "Make 40 s the goal") == Found::yes);
}

TEST_CASE("the longest of the last baseline's /s/ is suggested with its day")
{
    const OpenedClient opened = eight_weeks();
    double longest = 0.0;
    for (const Trial& trial : opened->file.practices.front().trials)
        if (trial.kind == DrillKind::s_hold)
            longest = std::max(longest, std::get<SibilantMeasures>(trial.measures).length.count());
    const auto page = goal_page(opened);
    CHECK(has(words_of(page->view()), "From the /s/ baseline of 1 March 2026"));
    bool is_offered = false;
    for (const std::string& label : labels_of(*page))
        if (label.starts_with("Make ")) {
            do_at(*page, label);
            for (const SavePlan& asked : requests_of<SavePlan>(*page))
                is_offered = std::abs(asked.plan.goal->hold.count() - longest) < 0.051;
        }
    CHECK(is_offered);
}

TEST_CASE("Enter on the page as it opens leaves everything as it is")
{
    const auto page = goal_page(eight_weeks());
    press(*page, PressKey::Key::proceed);
    auto wishes = page->take_wishes();
    REQUIRE(wishes.size() == 1);
    CHECK(std::holds_alternative<ClosePage>(wishes[0]));
}

TEST_CASE("without a baseline the page says how to come to one")
{
    CHECK(has(words_of(goal_page(nothing_yet())->view()), "No /s/ was timed in session yet"));
}

TEST_CASE("what is no number is said beside the row")
{
    const auto page = goal_page(eight_weeks());
    go_to(*page, "Seconds");
    type(*page, "soon");
    CHECK(has(words_of(page->view()), "A number, such as 18."));
}

TEST_CASE("the taper's step back is taken only by its button")
{
    auto opened = std::make_shared<ClientOpened>(*eight_weeks());
    opened->file.plans.back().taper_step = 1;
    const auto page = goal_page(opened);
    CHECK(requests_of<SavePlan>(*page).empty());
    CHECK(do_at(*page, "Go back to the full plan") == Found::yes);
    const auto asked = requests_of<SavePlan>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].plan.taper_step == 0);
}

TEST_CASE("a goal sentence can be copied and put on a report, and its fault stops both")
{
    const auto page = goal_sentence_page(eight_weeks());
    CHECK(do_at(*page, "Copy the sentence") == Found::yes);
    const auto copied = wishes_of<CopyText>(*page);
    REQUIRE(copied.size() == 1);
    CHECK(has(copied[0].text, "C-104"));
    CHECK(has(copied[0].text, "18 s"));
    go_to(*page, "Of trials");
    press(*page, PressKey::Key::left, 40);  // 3 of 1 trials cannot be
    CHECK(go_to(*page, "Copy the sentence") == Found::no);
}

TEST_CASE("a day typed into the goal sentence is read as a day or said not to be one")
{
    const auto page = goal_sentence_page(eight_weeks());
    go_to(*page, "By");
    press(*page, PressKey::Key::erase, 12);
    type(*page, "2026-06-31");  // June has 30 days
    CHECK(has(words_of(page->view()), "A day is typed as year-month-day"));
    press(*page, PressKey::Key::erase);
    type(*page, "0");
    CHECK(has(words_of(page->view()), "30 June 2026"));
}
