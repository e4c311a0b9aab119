// The list of clients: what is looked for in it, and the page on it. Expected values are counted by
// hand from twelve_clients() (tests/support/desk).

#include <doctest/doctest.h>

#include "app/pages/pages.h"
#include "app/pages/roster.h"
#include "tests/support/desk/desk_cases.h"
#include "tests/support/desk/desk_pages.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

std::vector<std::string> codes_of(const std::vector<RosterLine>& lines)
{
    std::vector<std::string> codes;
    for (const RosterLine& line : lines) codes.push_back(line.code);
    return codes;
}

using Codes = std::vector<std::string>;

Codes shown(const RosterChoice& choice) { return codes_of(roster_shown(twelve_clients(), choice)); }

std::unique_ptr<Page> page_with(std::vector<RosterLine> lines)
{
    auto page = roster_page();
    page->opened();
    REQUIRE(requests_of<ListClients>(*page).size() == 1);
    ClientsListed listed;
    listed.lines = std::move(lines);
    listed.today = kDeskToday;
    page->hear(listed);
    return page;
}

int links_of(const Page& page)
{
    int links = 0;
    for (const PageBlock& block : page.view().blocks)
        if (const auto* row = std::get_if<RowBlock>(&block))
            links += row->kind == RowBlock::Kind::link && !row->columns.empty() ? 1 : 0;
    return links;
}

}  // namespace

TEST_CASE("each question to the list finds its clients, archived ones only when asked for")
{
    CHECK(shown({}).size() == 11);
    CHECK(shown({.show = RosterShow::not_practised}) == Codes{"B-11", "C-105", "G-2"});
    CHECK(shown({.show = RosterShow::near_goal}) == Codes{"A-02", "C-104", "F-19"});
    CHECK(shown({.show = RosterShow::discomfort}) == Codes{"D-7"});
    CHECK(shown({.show = RosterShow::archived}) == Codes{"M-6"});
}

TEST_CASE("a code is found by a part of it, capital or not, with an accent or not plain")
{
    CHECK(shown({.find = "c-1"}) == Codes{"C-104", "C-105"});
    CHECK(shown({.find = "\u00e9-3"}) == Codes{"\u00c9-3"});
    CHECK(shown({.find = "e-3"}) == Codes{"\u00c9-3"});
    CHECK(shown({.find = "zzz"}).empty());
}

TEST_CASE("orders put first what they say")
{
    const Codes away = shown({.order = RosterOrder::longest_away});
    CHECK(away[0] == "C-105");  // never practised
    CHECK(away[1] == "G-2");
    CHECK(away[2] == "B-11");
    const Codes near = shown({.order = RosterOrder::nearest_goal});
    CHECK(near[0] == "C-104");
    CHECK(near[1] == "A-02");
    CHECK(near[2] == "F-19");
    CHECK(shown({.order = RosterOrder::discomfort_first})[0] == "D-7");
    const Codes by_code = shown({});
    CHECK(by_code[0] == "A-01");
    CHECK(by_code[6] == "\u00c9-3");  // between D-7 and F-19, as in a dictionary
}

TEST_CASE("near the goal begins at 85 % of it, and at the goal it is reached")
{
    RosterLine line;
    CHECK_FALSE(is_near_goal(line));
    line.goal_share = 0.8499;
    CHECK_FALSE(is_near_goal(line));
    line.goal_share = 0.85;
    CHECK(is_near_goal(line));
    CHECK_FALSE(has_reached_goal(line));
    line.goal_share = 1.0;
    CHECK(has_reached_goal(line));
}

TEST_CASE("nobody is said not to practise who is asked for nothing")
{
    RosterLine line;
    CHECK_FALSE(has_not_practised(line));
    line.asked_a_week = 14;
    CHECK(has_not_practised(line));
    line.practices_this_week = 1;
    CHECK_FALSE(has_not_practised(line));
}

TEST_CASE("marks stand as words, and nothing stands where there is nothing to look at")
{
    RosterLine line;
    CHECK(marks_said(line).empty());
    line.reported_discomfort = true;
    line.asked_a_week = 14;
    CHECK(marks_said(line) == "discomfort, not practised");
}

TEST_CASE("the summary counts")
{
    CHECK(
        roster_summary(twelve_clients()) ==
        "11 active clients. 3 have not practised for seven days, 3 are near the goal or at it and "
        "1 reported discomfort.");
    CHECK(roster_summary({}) == "0 active clients.");
}

TEST_CASE("an empty list says what to do")
{
    const auto page = page_with({});
    CHECK(page->view().lead.find("Add the first client") != std::string::npos);
    CHECK(labels_of(*page).front() == "Add a client");
}

TEST_CASE("typing narrows the list and Enter opens the first one found")
{
    const auto page = page_with(twelve_clients());
    type(*page, "c-104");
    CHECK(links_of(*page) == 1);
    press(*page, PressKey::Key::proceed);
    auto opened = wishes_of<OpenPage>(*page);
    REQUIRE(opened.size() == 1);
    opened[0].page->opened();
    const auto asked = requests_of<OpenClient>(*opened[0].page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].client == twelve_clients()[3].client);
}

TEST_CASE("a client is added by a code, and a code that is taken is said to be")
{
    const auto page = page_with(twelve_clients());
    CHECK(do_at(*page, "Add a client") == Found::yes);
    CHECK(requests_of<AddClient>(*page).empty());  // nothing was typed
    type(*page, "N-1");
    press(*page, PressKey::Key::proceed);
    const auto asked = requests_of<AddClient>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].code == "N-1");
    Refused refused;
    refused.sentence = "There is a client with this code already.";
    page->hear(refused);
    CHECK(words_of(page->view()).find(refused.sentence) != std::string::npos);
    press(*page, PressKey::Key::proceed);
    ClientAdded added;
    added.client.id = {"0000000000000000000000000000000f"};
    page->hear(added);
    CHECK(wishes_of<OpenPage>(*page).size() == 1);
    CHECK(value_at(*page, "Add a client") == "");
}

TEST_CASE("back from a client who was added, the focus is on that line")
{
    const auto page = page_with(twelve_clients());
    CHECK(do_at(*page, "Add a client") == Found::yes);
    type(*page, "N-1");
    press(*page, PressKey::Key::proceed);
    ClientAdded added;
    added.client.id = {"0000000000000000000000000000000f"};
    added.client.code = "N-1";
    page->hear(added);
    page->opened();
    ClientsListed listed;
    listed.lines = twelve_clients();
    listed.lines.push_back({.client = added.client.id, .code = "N-1"});
    listed.today = kDeskToday;
    page->hear(listed);
    const PageView view = page->view();
    REQUIRE(view.focused);
    int row = 0;
    std::string label;
    for (const PageBlock& block : view.blocks) {
        const auto* plain = std::get_if<RowBlock>(&block);
        if (plain != nullptr && row++ == *view.focused) label = plain->label;
    }
    CHECK(label == "N-1");
}

TEST_CASE("with nobody found, Enter is not said to open anybody")
{
    const auto page = page_with(twelve_clients());
    CHECK(page->view().keys.front().does == "open the first");
    type(*page, "no such code");
    CHECK(page->view().keys.front().does != "open the first");
    press(*page, PressKey::Key::proceed);
    CHECK(wishes_of<OpenPage>(*page).empty());
}

TEST_CASE("a refusal of somebody else's request is not shown here")
{
    const auto page = page_with(twelve_clients());
    Refused refused;
    refused.sentence = "The disk is full.";
    page->hear(refused);
    CHECK(words_of(page->view()).find("The disk is full.") == std::string::npos);
}

TEST_CASE("of a thousand clients a hundred are listed and the others are said")
{
    const auto page = page_with(a_thousand_clients());
    CHECK(links_of(*page) == 100);
    CHECK(words_of(page->view()).find("900 more") != std::string::npos);
}

TEST_CASE("a file dropped on the list opens its preview")
{
    const auto page = page_with(twelve_clients());
    page->act(DropFile{"/tmp/practices.json"});
    auto opened = wishes_of<OpenPage>(*page);
    REQUIRE(opened.size() == 1);
    opened[0].page->opened();
    auto preview = wishes_of<OpenPage>(*opened[0].page);
    REQUIRE(preview.size() == 1);
    preview[0].page->opened();
    const auto asked = requests_of<PreviewImport>(*preview[0].page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].path == "/tmp/practices.json");
}
