// A therapist's day through her pages and the true records: what the pages ask for is done by the
// Office, as in the window.

#include <doctest/doctest.h>

#include <algorithm>
#include <memory>
#include <vector>

#include "app/pages/pages.h"
#include "tests/app/files/scratch_folder.h"
#include "tests/app/office/desk_office.h"
#include "tests/support/desk/desk_pages.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

// Pages upon each other, each wish granted at once.
class Desk {
public:
    explicit Desk(Office& office) : office_{office} {}

    void open(std::unique_ptr<Page> page)
    {
        pages_.push_back(std::move(page));
        top().opened();
        settle();
    }
    Page& top() { return *pages_.back(); }
    void do_at(const std::string& label)
    {
        REQUIRE_MESSAGE(test::do_at(top(), label) == Found::yes, label);
        settle();
    }
    void type_at(const std::string& label, const std::string& text)
    {
        REQUIRE_MESSAGE(go_to(top(), label) == Found::yes, label);
        type(top(), text);
        settle();
    }
    void enter()
    {
        press(top(), PressKey::Key::proceed);
        settle();
    }
    void back()
    {
        press(top(), PressKey::Key::back);
        settle();
    }
    std::string words() { return words_of(top().view()); }
    void drop(const std::filesystem::path& file)
    {
        top().act(DropFile{file});
        settle();
    }
    bool says(const std::string& part) { return words().find(part) != std::string::npos; }
    std::string title() { return top().view().title; }

private:
    void settle()
    {
        for (bool any = true; any;) {
            any = false;
            for (std::size_t i = 0; i < pages_.size() && !any; ++i) {
                for (PageWish& wish : pages_[i]->take_wishes()) {
                    any = true;
                    grant(std::move(wish));
                }
            }
        }
    }
    void grant(PageWish wish)
    {
        if (auto* ask = std::get_if<Ask>(&wish)) {
            const Answer answer = office_.answer(ask->request);
            for (const auto& page : pages_) page->hear(answer);
        } else if (auto* opened = std::get_if<OpenPage>(&wish)) {
            pages_.push_back(std::move(opened->page));
            top().opened();
        } else if (std::holds_alternative<ClosePage>(wish) && pages_.size() > 1) {
            closed_.push_back(std::move(pages_.back()));
            pages_.pop_back();
            top().opened();
        }
    }

    Office& office_;
    std::vector<std::unique_ptr<Page>> pages_;
    std::vector<std::unique_ptr<Page>> closed_;
};

}  // namespace

TEST_CASE("a client is added, given a plan, a goal and a practice, reported on, and deleted")
{
    const ScratchFolder scratch;
    OfficeInFolder in_folder{scratch.path("data")};
    Desk desk{*in_folder.office};
    desk.open(roster_page());

    desk.type_at("Add a client", "Zoë-7");
    desk.enter();
    REQUIRE(desk.title() == "Zoë-7");

    desk.do_at("Plan");
    desk.type_at("Words for the client", "Soft and easy.");
    desk.do_at("Save");
    CHECK(desk.says("Saved as revision"));
    desk.back();
    REQUIRE(desk.title() == "Zoë-7");
    CHECK(desk.says("Plan in force: Daily practice"));

    desk.do_at("Goals and taper");
    desk.type_at("Seconds", "16.5");
    desk.do_at("Make 16.5 s the goal");
    CHECK(desk.says("16.5 s, set by hand"));
    desk.back();
    CHECK(desk.says("goal 16.5 s"));

    desk.do_at("Enter a practice by hand");
    desk.type_at("Warm-up hold on F4", "12.5 14");
    desk.do_at("Keep this practice");
    REQUIRE(desk.title() == "Zoë-7");
    CHECK(desk.says("entered by hand: complete, 2 of"));

    desk.do_at("Progress");
    CHECK(desk.says("1 was entered by hand"));
    desk.back();

    desk.do_at("Report for the chart");
    desk.do_at("Write the report");
    CHECK(desk.says("Written"));
    CHECK(desk.says(".pdf"));
    desk.do_at("Done");

    desk.do_at("Delete this client");
    desk.type_at("Type Zoë-7", "Zoë-7");
    desk.do_at("Delete everything of this client");
    CHECK(desk.title() == "Clients");
    CHECK_FALSE(desk.says("Zoë-7"));
}

TEST_CASE(
    "what one desk hands over under a passphrase, another brings in, and a second time nothing")
{
    const ScratchFolder scratch;
    OfficeInFolder clinic{scratch.path("clinic/data")};
    Desk desk{*clinic.office};
    desk.open(roster_page());
    desk.type_at("Add a client", "C-9");
    desk.enter();
    desk.do_at("Plan");
    desk.do_at("Save");
    desk.back();
    desk.do_at("Enter a practice by hand");
    desk.type_at("Ladder hold on C4", "11");
    desk.do_at("Keep this practice");
    desk.do_at("Files");
    desk.do_at("Write everything of this client");
    desk.type_at("Passphrase", "four plain words");
    desk.type_at("Passphrase again", "four plain words");
    desk.do_at("Write the file");
    REQUIRE(desk.says("Written"));
    std::filesystem::path file;
    for (const auto& entry : std::filesystem::directory_iterator{scratch.path("clinic")})
        if (entry.is_regular_file()) file = entry.path();
    REQUIRE_FALSE(file.empty());

    OfficeInFolder elsewhere{scratch.path("elsewhere/data")};
    elsewhere.ids = 1000;  // another computer draws other ids
    Desk other{*elsewhere.office};
    for (const char* outcome : {"1 practice", "nothing was changed"}) {
        other.open(roster_page());
        other.drop(file);
        REQUIRE(other.title() == "Bring in a file");
        CHECK(other.says("This file is sealed"));
        other.type_at("Passphrase", "four plain word");
        other.enter();
        CHECK_FALSE(other.says("Take it in"));
        other.type_at("Passphrase", "s");
        other.enter();
        CHECK(other.says("C-9"));
        other.do_at("Take it in");
        CHECK(other.says(outcome));
        other.do_at("Done");
    }
}
