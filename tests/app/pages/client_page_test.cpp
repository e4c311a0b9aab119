// The page of one client, driven by keys and answers.

#include <doctest/doctest.h>

#include "app/pages/client_words.h"
#include "app/pages/confirm_page.h"
#include "app/pages/pages.h"
#include "tests/support/desk/desk_cases.h"
#include "tests/support/desk/desk_pages.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

std::unique_ptr<Page> page_of(const OpenedClient& opened)
{
    auto page = client_page(opened->file.client.id);
    page->opened();
    REQUIRE(requests_of<OpenClient>(*page).size() == 1);
    page->hear(*opened);
    return page;
}

}  // namespace

TEST_CASE("another client's records are not taken for this one's")
{
    auto page = client_page({"ffffffffffffffffffffffffffffffff"});
    page->opened();
    page->hear(*eight_weeks());
    CHECK(page->view().title.empty());
}

TEST_CASE("two weeks are shown day by day, and the last practice in words")
{
    const OpenedClient opened = eight_weeks();
    const DaysBlock days = last_two_weeks(opened->file, opened->today);
    REQUIRE(days.days.size() == 14);
    CHECK(days.days.back().is_today);
    // 26 April 2026 is a Sunday (ISO 8601 calendar).
    CHECK(days.days.back().name == "Sun");
    const auto page = page_of(opened);
    const std::string words = words_of(page->view());
    CHECK(words.find("Today at 19:00, at home") != std::string::npos);
    CHECK(words.find("Easier in the morning") != std::string::npos);
}

TEST_CASE("without a plan there is nothing to practise in session, and the page says how to begin")
{
    const auto page = page_of(nothing_yet());
    CHECK(go_to(*page, "Practise the plan in session") == Found::no);
    CHECK(words_of(page->view()).find("begin from a template") != std::string::npos);
}

TEST_CASE("a practice in session runs the plan in force")
{
    const OpenedClient opened = eight_weeks();
    const auto page = page_of(opened);
    CHECK(do_at(*page, "Practise the plan in session") == Found::yes);
    const auto started = wishes_of<StartPractice>(*page);
    REQUIRE(started.size() == 1);
    CHECK(started[0].kind == PracticeKind::in_session);
    CHECK(started[0].plan == opened->file.plans.back());
}

TEST_CASE("a baseline is timed with and without /z/")
{
    const auto page = page_of(eight_weeks());
    do_at(*page, "Three quiet /s/");
    do_at(*page, "Three quiet /s/, then three /z/");
    const auto started = wishes_of<StartBaseline>(*page);
    REQUIRE(started.size() == 2);
    CHECK(started[0].sounds == StartBaseline::Sounds::s);
    CHECK(started[1].sounds == StartBaseline::Sounds::s_and_z);
}

TEST_CASE("every page that it leads to is opened")
{
    for (const char* label : {"Progress", "Plan", "Goals and taper", "Report for the chart",
                              "Files", "Enter a practice by hand"}) {
        CAPTURE(label);
        const auto page = page_of(eight_weeks());
        CHECK(do_at(*page, label) == Found::yes);
        CHECK(wishes_of<OpenPage>(*page).size() == 1);
    }
}

TEST_CASE("consent and standing are changed by her own rows")
{
    const auto page = page_of(eight_weeks());
    go_to(*page, "Has agreed that audio is kept");
    press(*page, PressKey::Key::right);
    do_at(*page, "Archive");
    const auto asked = requests_of<ChangeClient>(*page);
    REQUIRE(asked.size() == 2);
    CHECK(asked[0].client.keeps_audio);
    CHECK(asked[1].client.standing == Standing::archived);
}

TEST_CASE("a client is deleted only when the code was typed, and then the page closes")
{
    const OpenedClient opened = eight_weeks();
    const auto page = page_of(opened);
    do_at(*page, "Delete this client");
    auto asked = wishes_of<OpenPage>(*page);
    REQUIRE(asked.size() == 1);
    Page& confirm = *asked[0].page;
    do_at(confirm, "Delete everything of this client");
    CHECK(requests_of<DeleteClient>(confirm).empty());
    CHECK(words_of(confirm.view()).find("Nothing was done") != std::string::npos);
    go_to(confirm, "Type " + opened->file.client.code);
    type(confirm, opened->file.client.code);
    do_at(confirm, "Delete everything of this client");
    const auto deleted = requests_of<DeleteClient>(confirm);
    REQUIRE(deleted.size() == 1);
    CHECK(deleted[0].client == opened->file.client.id);
    const ClientDeleted answer{opened->file.client.id};
    confirm.hear(answer);
    page->hear(answer);
    CHECK(wishes_of<ClosePage>(confirm).size() == 1);
    page->opened();
    CHECK(wishes_of<ClosePage>(*page).size() == 1);
}

TEST_CASE("a confirmation waits for the answer to what it asked")
{
    const OpenedClient opened = eight_weeks();
    const auto page = page_of(opened);
    ClientOpened another = *opened;
    another.file.client.id = {"000000000000000000000000000000bb"};
    SUBCASE("a client")
    {
        do_at(*page, "Delete this client");
        auto asked = wishes_of<OpenPage>(*page);
        REQUIRE(asked.size() == 1);
        Page& confirm = *asked[0].page;
        go_to(confirm, "Type " + opened->file.client.code);
        type(confirm, opened->file.client.code);
        do_at(confirm, "Delete everything of this client");
        REQUIRE(requests_of<DeleteClient>(confirm).size() == 1);
        confirm.hear(*opened);
        confirm.hear(ClientDeleted{another.file.client.id});
        CHECK(confirm.take_wishes().empty());
        Refused refused;
        refused.sentence = "The disk is full.";
        confirm.hear(refused);
        CHECK(words_of(confirm.view()).find("The disk is full.") != std::string::npos);
        CHECK(confirm.take_wishes().empty());
    }
    SUBCASE("audio")
    {
        const auto confirm = confirm_page({.title = "Delete the audio",
                                           .lead = {},
                                           .what_happens = {},
                                           .word = "audio",
                                           .button = "Delete the audio",
                                           .request = DeleteClips{opened->file.client.id}});
        go_to(*confirm, "Type audio");
        type(*confirm, "audio");
        do_at(*confirm, "Delete the audio");
        REQUIRE(requests_of<DeleteClips>(*confirm).size() == 1);
        confirm->hear(another);
        confirm->hear(ClientsListed{});
        CHECK(confirm->take_wishes().empty());
        confirm->hear(*opened);
        CHECK(wishes_of<ClosePage>(*confirm).size() == 1);
    }
}

TEST_CASE("the first row of a confirmation keeps everything as it is")
{
    const auto page = page_of(eight_weeks());
    do_at(*page, "Delete this client");
    auto asked = wishes_of<OpenPage>(*page);
    press(*asked[0].page, PressKey::Key::proceed);
    auto wishes = asked[0].page->take_wishes();
    REQUIRE(wishes.size() == 1);
    CHECK(std::holds_alternative<ClosePage>(wishes[0]));
}

TEST_CASE("labels of onsets are said with their number and their day")
{
    Client client;
    CHECK(onset_labels_said(client).find("usual limits") != std::string::npos);
    OnsetBaselineRecord record;
    record.labelled = kDeskToday;
    record.onsets.resize(4);
    client.onset_baseline = record;
    // kFewestLabels (dsp/onset_baseline.h) is ten.
    CHECK(onset_labels_said(client) ==
          "4 onsets named by you on 26 April 2026; from 10 on, hints follow your ear.");
    client.onset_baseline->onsets.resize(10);
    CHECK(onset_labels_said(client) ==
          "10 onsets named by you on 26 April 2026: hints follow your ear.");
}
