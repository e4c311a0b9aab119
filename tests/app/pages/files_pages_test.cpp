// Files for home, reports and privacy: what is asked of the records, and that nothing is asked
// before a person has said so.

#include <doctest/doctest.h>

#include "app/pages/hand_over_page.h"
#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/passphrase.h"
#include "tests/app/pages/files_parts.h"
#include "tests/support/desk/desk_cases.h"
#include "tests/support/desk/desk_pages.h"

using namespace holdwell;
using namespace holdwell::test;

TEST_CASE("a passphrase is used when it is long enough and typed twice the same")
{
    CHECK(fault_of(Passphrase{}).empty());
    CHECK_FALSE(fault_of(Passphrase{"short", "short"}).empty());
    CHECK_FALSE(fault_of(Passphrase{"long enough", "long enougH"}).empty());
    CHECK(fault_of(Passphrase{"long enough", "long enough"}).empty());
    // Eight letters, sixteen bytes.
    CHECK(fault_of(Passphrase{"\u00e9\u00e9\u00e9\u00e9\u00e9\u00e9\u00e9\u00e9",
                              "\u00e9\u00e9\u00e9\u00e9\u00e9\u00e9\u00e9\u00e9"})
              .empty());
    CHECK_FALSE(
        fault_of(Passphrase{"\u00e9\u00e9\u00e9\u00e9", "\u00e9\u00e9\u00e9\u00e9"}).empty());
}

TEST_CASE("a client's practices are written with what was chosen, and not before")
{
    const auto page = hand_over_page(HandOver::practices, whose(FilesPageFor::Side::client));
    page->opened();
    CHECK(has(*page, "No audio is in it."));
    go_to(*page, "Days");
    press(*page, PressKey::Key::right);
    CHECK(has(*page, "no dates"));
    go_to(*page, "Audio");
    press(*page, PressKey::Key::right);
    CHECK(has(*page, "identifies a person"));
    CHECK(page->take_wishes().empty());
    do_at(*page, "Write the file");
    const auto asked = requests_of<ExportPractices>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].client == kFilesClient);
    CHECK(asked[0].dates == DateForm::day_numbers);
    CHECK(asked[0].clips == ClipsInExport::included);
    CHECK(asked[0].passphrase.empty());
    Written written;
    written.path = "/home/a/out.json";
    written.holds = "one practice";
    page->hear(written);
    CHECK(has(*page, "/home/a/out.json"));
    CHECK(has(*page, "one practice"));
}

TEST_CASE("two passphrases that differ write nothing, and neither is ever shown")
{
    const auto page = hand_over_page(HandOver::plan, whose(FilesPageFor::Side::therapist));
    go_to(*page, "Passphrase");
    type(*page, "four plain words");
    go_to(*page, "Passphrase again");
    type(*page, "four plain word");
    do_at(*page, "Write the file");
    CHECK(requests_of<ExportPlan>(*page).empty());
    CHECK(has(*page, "not the same"));
    CHECK_FALSE(has(*page, "four plain"));
    go_to(*page, "Passphrase again");
    type(*page, "s");
    do_at(*page, "Write the file");
    const auto asked = requests_of<ExportPlan>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].passphrase == "four plain words");
}

TEST_CASE("in records to look around in, a file is said to go when the window closes")
{
    FilesPageFor example = whose(FilesPageFor::Side::client);
    const auto own = hand_over_page(HandOver::practices, example);
    CHECK(has(*own, "your documents folder"));
    example.lasting = Lasting::until_closed;
    const auto page = hand_over_page(HandOver::practices, example);
    CHECK_FALSE(has(*page, "your documents folder"));
    CHECK(do_at(*page, "Write the file") == Found::yes);
    Written written;
    written.path = "/tmp/an-example/practices.json";
    page->hear(written);
    CHECK(has(*page, "the file goes when the window closes"));
}

TEST_CASE("a refusal is said, and writing can be tried again")
{
    const auto page = hand_over_page(HandOver::table, whose(FilesPageFor::Side::therapist));
    do_at(*page, "Write the file");
    CHECK(requests_of<WriteTable>(*page).size() == 1);
    page->hear(refused("The folder cannot be written to."));
    CHECK(has(*page, "The folder cannot be written to."));
    do_at(*page, "Write the file");
    CHECK(requests_of<WriteTable>(*page).size() == 1);
}

TEST_CASE("a client is offered to hand back, a therapist to hand over")
{
    CHECK(go_to(*files_page(whose(FilesPageFor::Side::client)), "Hand back your practices") ==
          Found::yes);
    CHECK(go_to(*files_page(whose(FilesPageFor::Side::therapist)), "Hand over the plan") ==
          Found::yes);
    const auto only_in = files_page({.side = FilesPageFor::Side::therapist});
    CHECK(go_to(*only_in, "Hand over the plan") == Found::no);
    CHECK(go_to(*only_in, "Another file") == Found::yes);
}

TEST_CASE("a report is written for the period chosen, with a name only if one was typed")
{
    const auto page = report_page(eight_weeks());
    do_at(*page, "Write the report");
    auto asked = requests_of<WriteReport>(*page);
    REQUIRE(asked.size() == 1);
    CHECK_FALSE(asked[0].from);
    CHECK(asked[0].name.empty());
    page->hear(refused("No room on the disk."));
    go_to(*page, "From");
    press(*page, PressKey::Key::left);
    go_to(*page, "Name on it");
    type(*page, "An Example");
    do_at(*page, "Write the report");
    asked = requests_of<WriteReport>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].name == "An Example");
    // Fourteen days, today among them.
    CHECK(asked[0].from == date_typed("2026-04-13"));
}

TEST_CASE("the privacy page says where and how much, and deletes only what was confirmed")
{
    const auto page = privacy_page();
    page->opened();
    CHECK(requests_of<LoadHome>(*page).size() == 1);
    HomeLoaded home;
    home.file.client.id = kFilesClient;
    home.folder = "/home/a/.local/share/holdwell";
    home.bytes = 52'400'000;
    home.clips = {.count = 212, .bytes = 48'300'000};
    page->hear(home);
    CHECK(has(*page, "/home/a/.local/share/holdwell (52 MB)"));
    CHECK(has(*page, "212 recordings, 48 MB"));
    do_at(*page, "Delete the audio");
    auto asked = wishes_of<OpenPage>(*page);
    REQUIRE(asked.size() == 1);
    Page& confirm = *asked[0].page;
    go_to(confirm, "Type audio");
    type(confirm, "audio");
    do_at(confirm, "Delete the audio");
    CHECK(requests_of<DeleteClips>(confirm).size() == 1);
}

TEST_CASE("long words are shortened by letters, at their end or inside")
{
    CHECK(shortened("C-104", 5) == "C-104");
    CHECK(shortened("C-1045", 5) == "C-10\u2026");
    CHECK(shortened("\u00e9\u00e9\u00e9\u00e9", 3) == "\u00e9\u00e9\u2026");
    CHECK(shortened_inside("clinic-0001", 7) == "cli\u2026001");
    CHECK(shortened_inside("clinic", 7) == "clinic");
    CHECK(shortened_inside("\u00e9bcdefg", 5) == "\u00e9b\u2026fg");
}

TEST_CASE("days and numbers typed by people are read, and nothing else is")
{
    CHECK(date_typed(" 2026-04-26 ") == kDeskToday);
    CHECK(date_typed("2024-02-29"));
    CHECK_FALSE(date_typed("2026-02-29"));
    CHECK_FALSE(date_typed("26.4.2026"));
    CHECK_FALSE(date_typed("2026-4-26"));
    CHECK(number_typed("12,5") == 12.5);
    CHECK(number_typed(" 12 s ") == 12.0);
    CHECK_FALSE(number_typed("s"));
    CHECK_FALSE(number_typed("-3"));
    CHECK_FALSE(number_typed("nan"));
}
