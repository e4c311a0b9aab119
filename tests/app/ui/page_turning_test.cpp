// Pages that are longer than the window: turned by the keys, the focus along with what is seen,
// and nothing shown in part that could be shown whole.

#include <doctest/doctest.h>

#include <algorithm>
#include <memory>
#include <string>

#include "app/ui/view_model.h"
#include "tests/app/ui/headless.h"
#include "tests/app/ui/practising.h"

using namespace holdwell;
using test::Headless;

namespace {

// Forty links; the one in focus is what events make it.
class ListPage : public Page {
public:
    PageView view() const override
    {
        PageView v{.title = "A list"};
        for (int i = 0; i < 40; ++i) {
            RowBlock row;
            row.kind = RowBlock::Kind::link;
            row.label = "Row " + std::to_string(i);
            v.blocks.emplace_back(row);
        }
        v.focused = focused;
        v.keys = {{"Enter", "open", '\n'}};
        return v;
    }
    void act(const PageEvent& event) override
    {
        if (const auto* to = std::get_if<FocusRow>(&event)) focused = to->row;
        if (const auto* key = std::get_if<PressKey>(&event)) {
            if (key->key == PressKey::Key::down) ++focused;
            if (key->key == PressKey::Key::up) --focused;
        }
    }
    void hear(const Answer&) override {}
    int focused{0};
};

struct Turned {
    explicit Turned(Headless& window) : window_{window}
    {
        WindowOptions options;
        options.opens_on = OpensOn::page;
        vm.emplace(options, test::practised());
        auto made = std::make_unique<ListPage>();
        page = made.get();
        vm->open_page(std::move(made));
        draw();
    }
    void press(Key key)
    {
        vm->apply(*event_of(key, Screen::page));
        draw();
    }
    void draw()
    {
        output = window_.draw(vm->view());
        vm->saw(output.seen);
        output = window_.draw(vm->view());
    }
    bool shows(int row) const
    {
        return std::ranges::find(output.placed, "Row " + std::to_string(row), &PlacedText::text) !=
               output.placed.end();
    }

    std::optional<ViewModel> vm;
    ListPage* page{nullptr};
    FrameOutput output;

private:
    Headless& window_;
};

}  // namespace

TEST_CASE("the focus goes along where a page is turned, and stays in sight")
{
    Headless window{1280, 800, 100};
    Turned turned{window};
    CHECK(turned.page->focused == 0);
    CHECK(turned.shows(0));
    turned.press(Key::page_down);
    const int second = turned.page->focused;
    CHECK(second > 5);
    CHECK_FALSE(turned.shows(0));
    CHECK(turned.shows(second));
    CHECK_FALSE(turned.shows(second - 1));  // the first of this page
    turned.press(Key::down);
    CHECK(turned.page->focused == second + 1);
    CHECK(turned.shows(second));  // the page stays where it is
    turned.press(Key::page_up);
    CHECK(turned.page->focused == second - 1);  // the last of the page before
    CHECK(turned.shows(0));
}

TEST_CASE("every row is seen whole on one of the pages, and turning ends at the last")
{
    for (const int text : {100, 250}) {
        CAPTURE(text);
        Headless window{800, 600, text};
        Turned turned{window};
        std::vector<bool> seen(40, false);
        for (int turn = 0; turn < 45; ++turn) {
            for (int row = 0; row < 40; ++row)
                if (turned.shows(row)) seen[static_cast<std::size_t>(row)] = true;
            turned.press(Key::page_down);
        }
        CHECK(std::ranges::all_of(seen, [](bool was) { return was; }));
        CHECK(turned.shows(39));
        CHECK(turned.vm->view().page == turned.output.last_page);
    }
}

TEST_CASE("at the largest text in a small window at least four rows are seen at once")
{
    Headless window{800, 600, 250};
    Turned turned{window};
    int seen = 0;
    for (int row = 0; row < 40; ++row) seen += turned.shows(row) ? 1 : 0;
    CHECK(seen >= 4);
}

TEST_CASE("going down row by row turns the page when its end is reached, and back again")
{
    Headless window{1280, 800, 100};
    Turned turned{window};
    for (int row = 1; row < 40; ++row) {
        turned.press(Key::down);
        CHECK(turned.shows(row));
    }
    for (int row = 38; row >= 0; --row) {
        turned.press(Key::up);
        CHECK(turned.shows(row));
    }
}
