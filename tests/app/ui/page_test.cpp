// Pages in the window: what is drawn can be read at every size, keys and clicks reach the page on
// top, and what it wishes comes out.

#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "app/ui/view_model.h"
#include "tests/app/ui/headless.h"
#include "tests/app/ui/placed_text.h"
#include "tests/app/ui/window_sizes.h"

using namespace holdwell;
using test::faults_in;
using test::Headless;

namespace {

const char* const kLongName = "Frau Doktor Müller-Lüdenscheidt née Ångström-Şahin the younger";

ChartBlock chart(ChartBlock::Size size)
{
    ChartBlock c;
    c.title = "Hold on F4, and a title that goes on for longer than it should";
    c.unit = "s";
    c.summary = "17.2 s in the last week, from 11.0 s in the first; the goal is 18 s";
    c.days = 56.0;
    c.last_value = 25.0;
    c.goal = 18.0;
    c.goal_name = "goal 18 s";
    c.size = size;
    for (int day = 0; day < 56; ++day) {
        c.points.push_back({day * 1.0, 10.0 + day * 0.1, ChartBlock::Point::Mark::filled});
        c.points.push_back({day + 0.5, 40.0 - day, ChartBlock::Point::Mark::cross});  // off the top
        if (day % 7 == 0) c.line.push_back({day * 1.0, 10.0 + day * 0.1, {}});
        if (day % 7 == 0) c.day_names.emplace_back(day, "week " + std::to_string(day / 7 + 1));
    }
    c.breaks_at = {20.0};
    return c;
}

PageView full_page()
{
    PageView v;
    v.title = std::string{"Progress of "} + kLongName;
    v.lead = "A sentence that says what this page is for and that is long enough to be wrapped.";
    v.blocks.emplace_back(TextBlock{"Heading", "Words.\n\nMore words.", TextBlock::Weight::large});
    DaysBlock days;
    for (int i = 0; i < 14; ++i) days.days.push_back({"Mon", i % 3, 2, i == 4, i > 4});
    days.summary = "Seven of fourteen this week.";
    v.blocks.emplace_back(days);
    v.blocks.emplace_back(chart(ChartBlock::Size::usual));
    for (int i = 0; i < 5; ++i) v.blocks.emplace_back(chart(ChartBlock::Size::small));
    v.blocks.emplace_back(ChartBlock{});  // empty
    v.blocks.emplace_back(
        SharesBlock{"Onsets", {{"easy", 64}, {"breathy", 12}, {"hard", 0}, {"unsure", 20}}});
    v.blocks.emplace_back(SharesBlock{"Onsets", {}});
    TableBlock table{{"day", "trial", "a name of a column", "in band", "onset"}, {}};
    for (int i = 0; i < 9; ++i)
        table.rows.push_back({"12 March 2026", kLongName, "14.2 s", "92 %"});
    v.blocks.emplace_back(table);
    using Kind = RowBlock::Kind;
    v.blocks.emplace_back(ColumnHeadBlock{{"client", "last practice", "this week"}});
    v.blocks.emplace_back(RowBlock{Kind::link, kLongName, "", {"today", "12 of 14"}, "", ""});
    v.blocks.emplace_back(RowBlock{Kind::value, kLongName, kLongName, {}, "What it means.", ""});
    v.blocks.emplace_back(RowBlock{Kind::text, "Code", kLongName, {}, "", "It is taken already."});
    v.blocks.emplace_back(RowBlock{Kind::hidden_text, "Passphrase", "Gehörn", {}, "", ""});
    v.blocks.emplace_back(RowBlock{Kind::button, "Save", "as revision 3", {}, "", ""});
    v.blocks.emplace_back(ScaleBlock{"How much effort did it take?", "none", "the most", 7});
    v.keys = {{"Enter", "open", '\n'}, {"T", "table", 'T'}, {"Esc", "back", 27}};
    v.notice = "Kept in memory for now: the disk is full. Free some space and it is saved.";
    return v;
}

// A page that remembers what was done to it, and wishes what it is told to.
class ScriptedPage : public Page {
public:
    explicit ScriptedPage(std::string title) { shown.title = std::move(title); }
    PageView view() const override { return shown; }
    void act(const PageEvent& event) override
    {
        events.push_back(event);
        if (on_act) on_act(*this);
    }
    void hear(const Answer&) override { ++heard; }
    void opened() override { ++times_opened; }
    using Page::wish;

    PageView shown;
    std::vector<PageEvent> events;
    std::function<void(ScriptedPage&)> on_act;
    int heard{0};
    int times_opened{0};
};

ViewModel on_page(ScriptedPage*& page, std::string title = "First")
{
    Preferences p;
    p.cautions = Cautions::read;
    WindowOptions options;
    options.opens_on = OpensOn::page;
    ViewModel vm{options, p};
    auto made = std::make_unique<ScriptedPage>(std::move(title));
    page = made.get();
    vm.open_page(std::move(made));
    vm.take_commands();
    return vm;
}

std::string title_of(const ViewModel& vm) { return std::get<PageView>(vm.view().screen).title; }

}  // namespace

TEST_CASE("a page with everything on it can be read at every size, whatever is in focus")
{
    for (const test::WindowSize& size : test::kWindowSizes) {
        Headless window{size.width, size.height, size.text};
        WindowView view;
        view.screen = full_page();
        view.text_percent = size.text;
        for (int focused = 0; focused < 6; ++focused) {
            std::get<PageView>(view.screen).focused = focused;
            CAPTURE(size.width);
            CAPTURE(size.text);
            CAPTURE(focused);
            const FrameOutput output = window.draw(view);
            CHECK(output.placed.size() > 3);
            CHECK(faults_in(output, size.width, size.height) == std::vector<std::string>{});
        }
    }
}

TEST_CASE("pages can be turned away from the row in focus, to what lies between rows")
{
    Headless window{1280, 800, 100};
    WindowView view;
    view.screen = full_page();
    std::get<PageView>(view.screen).focused = 0;
    const auto words_of_page = [&](int page) {
        view.page = page;
        std::string all;
        for (const PlacedText& placed : window.draw(view).placed) all += placed.text + '\n';
        return all;
    };
    const std::string unturned = words_of_page(0);
    const std::string turned = words_of_page(1);
    CHECK(turned != unturned);
    CHECK(words_of_page(2) != turned);
}

TEST_CASE("every page of a long one can be turned to, and is readable")
{
    Headless window{1280, 800, 150};
    WindowView view;
    view.screen = full_page();
    const int last = window.draw(view).last_page;
    CHECK(last > 2);
    for (view.page = 0; view.page <= last; ++view.page) {
        const FrameOutput output = window.draw(view);
        CHECK(faults_in(output, 1280, 800) == std::vector<std::string>{});
    }
}

TEST_CASE("a click on a row, a step and a number of a scale says which")
{
    PageView page;
    page.blocks.emplace_back(RowBlock{RowBlock::Kind::link, "Heron 12", "", {}, "", ""});
    page.blocks.emplace_back(RowBlock{RowBlock::Kind::value, "weeks", "6", {}, "", ""});
    page.blocks.emplace_back(ScaleBlock{"Effort", "none", "most", {}});
    page.focused = 0;
    page.keys = {{"T", "table", 'T'}};
    WindowView view;
    view.screen = page;
    Headless window{1280, 800, 100};
    CHECK(window.click(view, "Heron 12") == std::vector<Event>{PickPageRow{0}});
    CHECK(window.click(view, "\u2192") == std::vector<Event>{StepPageRow{1, +1, {}}});
    CHECK(window.click(view, "7") == std::vector<Event>{StepPageRow{2, 0, 7}});
    CHECK(window.click(view, "table") == std::vector<Event>{PressKey{PressKey::Key::letter, 'T'}});
}

TEST_CASE("characters are letters of a text while one is typed, keys otherwise")
{
    CHECK(page_event_of(U't') == Event{PressKey{PressKey::Key::letter, 'T'}});
    CHECK(page_event_of(U'T') == Event{PressKey{PressKey::Key::letter, 'T'}});
    CHECK(page_event_of(U'7') == Event{PressKey{PressKey::Key::letter, '7'}});
    CHECK(page_event_of(U' ') == Event{PressKey{PressKey::Key::space, 0}});
    CHECK(page_event_of(U'+') == Event{Action::larger_text});
    CHECK_FALSE(page_event_of(U'é'));
    // RFC 3629, section 7, table of examples: U+2262, U+0391; section 3 for four bytes (U+233B4)
    CHECK(utf8_of(U'A') == "\x41");
    CHECK(utf8_of(0x0391) == "\xCE\x91");
    CHECK(utf8_of(0x2262) == "\xE2\x89\xA2");
    CHECK(utf8_of(0x233B4) == "\xF0\xA3\x8E\xB4");
    CHECK(utf8_of(0x1B).empty());

    ScriptedPage* page = nullptr;
    ViewModel vm = on_page(page);
    CHECK_FALSE(vm.is_typing());
    page->shown.blocks = {ScaleBlock{}, RowBlock{RowBlock::Kind::text, "Code", "", {}, "", ""}};
    page->shown.focused = 0;
    CHECK_FALSE(vm.is_typing());
    page->shown.focused = 1;
    CHECK(vm.is_typing());
    vm.type("Ä");
    REQUIRE(page->events.size() == 1);
    CHECK(std::get<TypeText>(page->events.front()).text == "Ä");
}

TEST_CASE("keys reach the page on top, and closing the last one leaves the program")
{
    ScriptedPage* first = nullptr;
    ViewModel vm = on_page(first);
    CHECK(first->times_opened == 1);
    ScriptedPage* second = nullptr;
    first->on_act = [&second](ScriptedPage& page) {
        auto made = std::make_unique<ScriptedPage>("Second");
        second = made.get();
        page.wish(OpenPage{std::move(made)});
    };
    vm.apply(*event_of(Key::enter, Screen::page));
    CHECK(title_of(vm) == "Second");
    vm.apply(*event_of(Key::left, Screen::page));
    CHECK(first->events.size() == 1);
    REQUIRE(second->events.size() == 1);
    CHECK(std::get<PressKey>(second->events.front()).key == PressKey::Key::left);
    vm.apply(Answer{Refused{"no", false}});
    CHECK(first->heard == 1);
    CHECK(second->heard == 1);

    second->on_act = [](ScriptedPage& page) { page.wish(ClosePage{}); };
    vm.apply(*event_of(Key::escape, Screen::page));
    CHECK(title_of(vm) == "First");
    CHECK(first->times_opened == 2);
    CHECK_FALSE(vm.is_leaving());
    first->on_act = [](ScriptedPage& page) { page.wish(ClosePage{}); };
    vm.apply(*event_of(Key::escape, Screen::page));
    CHECK(vm.is_leaving());
}

TEST_CASE("what a page asks of the records comes out as a request")
{
    ScriptedPage* page = nullptr;
    ViewModel vm = on_page(page);
    page->on_act = [](ScriptedPage& p) {
        p.wish(Ask{ListClients{}});
        p.wish(CopyText{"O: held F4"});
    };
    vm.apply(*event_of(Key::enter, Screen::page));
    const auto requests = vm.take_requests();
    REQUIRE(requests.size() == 1);
    CHECK(std::holds_alternative<ListClients>(requests.front().request));
    CHECK(vm.take_requests().empty());
    CHECK(vm.take_copied() == "O: held F4");
    CHECK_FALSE(vm.take_copied());
}

TEST_CASE("a page sends to the practice room and the way back leads to it")
{
    ScriptedPage* page = nullptr;
    ViewModel vm = on_page(page);
    page->on_act = [](ScriptedPage& p) { p.wish(OpenPracticeRoom{}); };
    vm.apply(*event_of(Key::enter, Screen::page));
    CHECK(vm.screen() == Screen::practice);
    const auto begun = vm.take_commands();
    CHECK(std::ranges::any_of(
        begun, [](const Command& c) { return std::holds_alternative<BeginDrill>(c); }));
    vm.apply(Event{Action::back});
    CHECK(vm.screen() == Screen::page);
    CHECK(page->times_opened == 2);
    const auto left = vm.take_commands();
    CHECK(std::ranges::any_of(
        left, [](const Command& c) { return std::holds_alternative<PauseListening>(c); }));
    CHECK_FALSE(vm.is_leaving());
}

TEST_CASE(
    "without a microphone the practice room offers what there is, and a page is not disturbed")
{
    ScriptedPage* page = nullptr;
    ViewModel vm = on_page(page);
    vm.apply(CaptureChanged{CaptureState::no_device, "", "No microphone was found.", {}});
    CHECK(vm.screen() == Screen::page);
    page->on_act = [](ScriptedPage& p) { p.wish(OpenPracticeRoom{}); };
    vm.apply(*event_of(Key::enter, Screen::page));
    CHECK(vm.screen() == Screen::no_microphone);
    vm.apply(Event{Action::back});
    CHECK(vm.screen() == Screen::page);
}

TEST_CASE("a page with one row alone is read from its top, and the arrows turn it")
{
    ScriptedPage* page = nullptr;
    ViewModel vm = on_page(page);
    for (int i = 0; i < 6; ++i) page->shown.blocks.emplace_back(chart(ChartBlock::Size::usual));
    page->shown.blocks.emplace_back(RowBlock{RowBlock::Kind::button, "Back", "", {}, "", ""});
    page->shown.focused = 0;
    page->shown.lead = "From the top.";
    Headless window{1280, 800, 100};
    const auto first_line_is_seen = [&] {
        const FrameOutput output = window.draw(vm.view());
        vm.limit_page(output.last_page);
        return std::ranges::any_of(output.placed, [](const PlacedText& t) {
            return t.text.find("From the top.") != std::string::npos;
        });
    };
    CHECK(first_line_is_seen());
    vm.apply(*event_of(Key::down, Screen::page));
    CHECK(page->events.empty());
    CHECK_FALSE(first_line_is_seen());
    vm.apply(*event_of(Key::up, Screen::page));
    CHECK(first_line_is_seen());
}
