// A file brought in: looked into first, and taken in only as the page shows it.

#include <doctest/doctest.h>

#include "app/pages/import_page.h"
#include "app/pages/page_words.h"
#include "tests/app/pages/files_parts.h"
#include "tests/support/desk/desk_pages.h"

using namespace holdwell;
using namespace holdwell::test;

TEST_CASE("a file is looked into first and taken in only by the button")
{
    const auto page = import_page("/a/practices.json", whose(FilesPageFor::Side::therapist));
    page->opened();
    CHECK(requests_of<PreviewImport>(*page).size() == 1);
    ImportPreviewed previewed;
    previewed.client_code = "C-104";
    previewed.new_practices = 2;
    previewed.new_trials = 32;
    previewed.already_here = 1;
    previewed.conflicts = {"The practice of 3 April differs: both are kept."};
    page->hear(previewed);
    CHECK(has(*page, "2 practices with 32 trials, new here. 1 practice is here already"));
    CHECK(has(*page, "both are kept"));
    CHECK(requests_of<ConfirmImport>(*page).empty());
    do_at(*page, "Take it in");
    CHECK(requests_of<ConfirmImport>(*page).size() == 1);
    Imported imported;
    imported.client = kFilesClient;
    imported.practices = 2;
    page->hear(imported);
    CHECK(has(*page, "2 practices. The file itself is left where it is."));
}

TEST_CASE("a sealed file asks for its passphrase, and a wrong one can be typed again")
{
    const auto page = import_page("/a/sealed", whose(FilesPageFor::Side::client));
    page->opened();
    page->take_wishes();
    Refused sealed = refused("It is sealed.");
    sealed.wants_passphrase = true;
    page->hear(sealed);
    CHECK(has(*page, "This file is sealed"));
    type(*page, "wrong words");
    press(*page, PressKey::Key::proceed);
    auto asked = requests_of<PreviewImport>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].passphrase == "wrong words");
    sealed.sentence = "The passphrase does not open it.";
    page->hear(sealed);
    CHECK(has(*page, "The passphrase does not open it."));
    CHECK_FALSE(has(*page, "wrong words"));
}

TEST_CASE("a file that cannot be read is said with its reason and nothing can be taken in")
{
    const auto page = import_page("/a/broken.json", whose(FilesPageFor::Side::client));
    page->opened();
    page->hear(refused("practices[3].begun: it is no day of the calendar."));
    CHECK(has(*page, "practices[3].begun"));
    CHECK(go_to(*page, "Take it in") == Found::no);
}

TEST_CASE("from a file that was refused a row leads back, and another looks at it again")
{
    const auto page = import_page("/a/broken.json", whose(FilesPageFor::Side::client));
    page->opened();
    page->take_wishes();
    page->hear(refused("It is no practice file."));
    CHECK(page->view().keys.front().does == "go back");
    CHECK(do_at(*page, "Look at this one again") == Found::yes);
    CHECK(requests_of<PreviewImport>(*page).size() == 1);
    page->hear(refused("It is no practice file."));
    CHECK(do_at(*page, "Choose another file") == Found::yes);
    CHECK(wishes_of<ClosePage>(*page).size() == 1);
}

TEST_CASE("a plan opened from a client's page of the therapist is looked at for that client")
{
    const auto page = import_page("/a/plan.json", whose(FilesPageFor::Side::therapist));
    page->opened();
    CHECK_FALSE(requests_of<PreviewImport>(*page).at(0).into);
    ImportPreviewed previewed;
    previewed.carries = Carries::plan;
    previewed.plan.emplace();
    page->hear(previewed);
    const auto again = requests_of<PreviewImport>(*page);
    REQUIRE(again.size() == 1);
    CHECK(again[0].into == kFilesClient);
    page->hear(previewed);
    CHECK(requests_of<PreviewImport>(*page).empty());
    CHECK(has(*page, "This plan comes into force"));
}

TEST_CASE("the day of day 1 is asked for where days are numbers")
{
    const auto page = import_page("/a/numbered.json", whose(FilesPageFor::Side::therapist));
    page->opened();
    page->take_wishes();
    ImportPreviewed previewed;
    previewed.has_numbered_days = true;
    page->hear(previewed);
    go_to(*page, "Day 1 was on");
    type(*page, "2026-13-01");
    press(*page, PressKey::Key::proceed);
    CHECK(requests_of<PreviewImport>(*page).empty());
    CHECK(has(*page, "year-month-day"));
    press(*page, PressKey::Key::erase, 5);
    type(*page, "03-28");
    press(*page, PressKey::Key::proceed);
    const auto asked = requests_of<PreviewImport>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].day_one == date_typed("2026-03-28"));
}

namespace {

ImportPreviewed preview_of_numbered_days()
{
    ImportPreviewed previewed;
    previewed.client_is_new = true;
    previewed.has_numbered_days = true;
    return previewed;
}

// The page has shown that preview, and asks for its day 1.
auto page_at_day_one(const ImportPreviewed& previewed)
{
    auto page = import_page("/a/numbered.json", whose(FilesPageFor::Side::therapist));
    page->opened();
    page->take_wishes();
    page->hear(previewed);
    go_to(*page, "Day 1 was on");
    return page;
}

}  // namespace

TEST_CASE("what was changed since the preview is looked into before anything is taken in")
{
    const ImportPreviewed previewed = preview_of_numbered_days();
    const auto page = page_at_day_one(previewed);
    type(*page, "2026-03-28");  // and no Enter
    do_at(*page, "Take it in");
    auto wishes = wishes_of<Ask>(*page);
    REQUIRE(wishes.size() == 1);
    const auto* again = std::get_if<PreviewImport>(&wishes[0].request);
    REQUIRE(again != nullptr);
    CHECK(again->day_one == date_typed("2026-03-28"));
    do_at(*page, "Take it in");  // not before the answer
    CHECK(page->take_wishes().empty());
    page->hear(previewed);
    CHECK(has(*page, "Look again"));
    do_at(*page, "Take it in");
    CHECK(requests_of<ConfirmImport>(*page).size() == 1);
}

TEST_CASE("a file that was refused for want of its day 1 can be given it and taken in")
{
    const auto page = import_page("/a/numbered.json", whose(FilesPageFor::Side::therapist));
    page->opened();
    ImportPreviewed previewed;
    previewed.has_numbered_days = true;
    page->hear(previewed);
    page->take_wishes();
    CHECK(has(*page, "needed before it can be taken in"));
    do_at(*page, "Take it in");
    REQUIRE(requests_of<ConfirmImport>(*page).size() == 1);
    page->hear(refused("Say on which date its day 1 stands."));
    CHECK(has(*page, "Say on which date its day 1 stands."));
    REQUIRE(go_to(*page, "Day 1 was on") == Found::yes);
    type(*page, "2026-03-28");
    press(*page, PressKey::Key::proceed);
    const auto asked = requests_of<PreviewImport>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].day_one == date_typed("2026-03-28"));
    page->hear(previewed);
    do_at(*page, "Take it in");
    CHECK(requests_of<ConfirmImport>(*page).size() == 1);
}

TEST_CASE("another client chosen beside a day that is none takes nothing in for the one before")
{
    const ImportPreviewed previewed = preview_of_numbered_days();
    const auto page = page_at_day_one(previewed);
    type(*page, "2026-13-01");
    go_to(*page, "Take it in for");
    press(*page, PressKey::Key::right);
    do_at(*page, "Take it in");
    CHECK(page->take_wishes().empty());
    CHECK(has(*page, "year-month-day: 2026"));
    go_to(*page, "Day 1 was on");
    press(*page, PressKey::Key::erase, 5);
    type(*page, "03-28");
    do_at(*page, "Take it in");
    const auto asked = requests_of<PreviewImport>(*page);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].into == kFilesClient);
    CHECK(asked[0].day_one == date_typed("2026-03-28"));
}

TEST_CASE("of two previews asked for at once the older one is never taken in")
{
    const auto page = import_page("/a/practices.json", whose(FilesPageFor::Side::therapist));
    page->opened();
    ImportPreviewed previewed;
    previewed.client_is_new = true;
    page->hear(previewed);
    page->take_wishes();
    go_to(*page, "Take it in for");
    press(*page, PressKey::Key::right);
    press(*page, PressKey::Key::right);
    CHECK(requests_of<PreviewImport>(*page).size() == 1);
    page->hear(previewed);  // for the client, where the page says whoever the file says
    do_at(*page, "Take it in");
    const auto asked = requests_of<PreviewImport>(*page);
    REQUIRE(asked.size() == 1);
    CHECK_FALSE(asked[0].into);
}
