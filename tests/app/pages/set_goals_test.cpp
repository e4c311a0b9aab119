// Goals that were set and files that were written, where a person reads of them.

#include <doctest/doctest.h>

#include "app/pages/pages.h"
#include "app/pages/record_words.h"
#include "tests/app/pages/files_parts.h"
#include "tests/support/desk/desk_cases.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr Date kSet{std::chrono::year{2026}, std::chrono::April, std::chrono::day{1}};

ClientGoal a_goal()
{
    ClientGoal goal;
    goal.id = Id{"00000000000000000000000000000099"};
    goal.goal.hold = Seconds{60.0};
    goal.set_on = kSet;
    return goal;
}

OpenedClient with_goal(const ClientGoal& goal)
{
    ClientOpened opened = *eight_weeks();
    opened.file.goals = {goal};
    opened.handed_out = {{.what = HandedOut::What::report, .day = kSet, .name = true}};
    return std::make_shared<const ClientOpened>(std::move(opened));
}

}  // namespace

TEST_CASE("a goal is set by a press and never by itself, and stands on the page once it is kept")
{
    const auto page = goal_sentence_page(eight_weeks());
    page->opened();
    CHECK(requests_of<SetGoal>(*page).empty());
    do_at(*page, "Set this goal");
    do_at(*page, "Set this goal");  // twice in a row is once
    const auto asked = requests_of<SetGoal>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].client == eight_weeks()->file.client.id);
    ClientGoal kept = a_goal();
    kept.goal = asked[0].goal;
    page->hear(*with_goal(kept));
    CHECK(has(*page, "Goal 1 in the record"));
    CHECK(has(*page, "Set 1 April 2026"));
    do_at(*page, "Set this goal");
    page->hear(refused("No room on the disk."));
    CHECK(has(*page, "No room on the disk."));
}

TEST_CASE("a goal is withdrawn at its own row, and then has none")
{
    const auto page = goal_sentence_page(with_goal(a_goal()));
    do_at(*page, "Withdraw goal 1");
    const auto asked = requests_of<WithdrawGoal>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].goal == a_goal().id);
    ClientGoal withdrawn = a_goal();
    withdrawn.withdrawn_on = kDeskToday;
    page->hear(*with_goal(withdrawn));
    CHECK(has(*page, "withdrawn 26 April 2026"));
    CHECK(go_to(*page, "Withdraw goal 1") == Found::no);
}

TEST_CASE("the client's page says the goals that stand, and what was written last")
{
    const OpenedClient opened = with_goal(a_goal());
    const auto page = client_page(opened->file.client.id);
    page->opened();
    page->hear(*opened);
    CHECK(has(*page, "for at least 60 s"));
    CHECK(has(*page, "Set 1 April 2026."));
    CHECK(has(*page, "Not yet met"));
    CHECK(has(*page, "1 April 2026: a report, with dates, with a name, not sealed."));
    ClientGoal withdrawn = a_goal();
    withdrawn.withdrawn_on = kDeskToday;
    page->hear(*with_goal(withdrawn));
    CHECK_FALSE(has(*page, "for at least 60 s"));
}

TEST_CASE("of many files the last three are said, newest first")
{
    CHECK(handed_out_said({}).empty());
    std::vector<HandedOut> files(5);
    for (std::size_t i = 0; i < files.size(); ++i)
        files[i].day = day_after(kSet, std::chrono::days{static_cast<int>(i)});
    files[4].days = HandedOut::Days::numbers;
    files[4].audio = true;
    files[4].sealed = true;
    CHECK(handed_out_said(files) ==
          "5 April 2026: practices, with day numbers instead of dates, with audio, sealed.\n"
          "4 April 2026: practices, with dates, not sealed.\n"
          "3 April 2026: practices, with dates, not sealed.\n"
          "Before: 2 files.");
}
