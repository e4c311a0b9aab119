// Pages of rows: focus, typing, values, keys. What is expected is what row_page.h promises.

#include <doctest/doctest.h>

#include "app/pages/row_page.h"
#include "tests/support/desk/desk_pages.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

class TrialPage final : public RowPage {
public:
    std::string text;
    int value{0};
    int pressed{0};
    int letters{0};
    std::optional<int> rating;
    std::vector<std::string> labels{"One", "Two", "Three"};

protected:
    Sheet lay_out() override
    {
        Sheet sheet;
        sheet.title = "Trial";
        sheet.text({.label = "Text", .text = text}, [this](const std::string& t) { text = t; });
        sheet.value({.label = "Value", .value = std::to_string(value)},
                    [this](int by) { value += by; });
        sheet.scale({.label = "Scale", .value = rating}, [this](int to) { rating = to; });
        for (const std::string& label : labels)
            sheet.button({.label = label}, [this] { ++pressed; });
        sheet.key({"K", "count", 'K'}, [this] { ++letters; });
        return sheet;
    }
};

std::unique_ptr<TrialPage> trial_page()
{
    auto page = std::make_unique<TrialPage>();
    page->refresh();
    return page;
}

std::optional<PageKeyHint> key_named(const Page& page, const std::string& name)
{
    for (const PageKeyHint& key : page.view().keys)
        if (key.key == name) return key;
    return std::nullopt;
}

}  // namespace

TEST_CASE("the focus moves over all rows and stays at the ends")
{
    const auto page = trial_page();
    CHECK(page->view().focused == 0);
    press(*page, PressKey::Key::up);
    CHECK(page->view().focused == 0);
    press(*page, PressKey::Key::down, 99);
    CHECK(page->view().focused == 5);
}

TEST_CASE("what is typed comes into the text in focus, and a letter of several bytes goes as one")
{
    const auto page = trial_page();
    type(*page, "Zo");
    type(*page, "\u00eb");
    CHECK(page->text == "Zo\u00eb");
    press(*page, PressKey::Key::erase);
    CHECK(page->text == "Zo");
    press(*page, PressKey::Key::erase, 5);
    CHECK(page->text.empty());
    press(*page, PressKey::Key::down);
    type(*page, "not here");
    CHECK(page->text.empty());
}

TEST_CASE("letters are keys of the page except in a text")
{
    const auto page = trial_page();
    press_letter(*page, 'K');
    CHECK(page->letters == 0);
    press(*page, PressKey::Key::down);
    CHECK(key_named(*page, "K"));
    press_letter(*page, 'K');
    CHECK(page->letters == 1);
    press_letter(*page, 'Q');
    CHECK(page->letters == 1);
}

TEST_CASE("in a text the same keys go with Ctrl, and are shown so")
{
    const auto page = trial_page();
    CHECK_FALSE(key_named(*page, "K"));
    const auto hint = key_named(*page, "Ctrl K");
    REQUIRE(hint);
    CHECK(hint->with == WithKey::control);
    page->act(PressKey{.key = PressKey::Key::letter, .letter = 'K', .with = WithKey::control});
    CHECK(page->letters == 1);
    CHECK(page->text.empty());
}

TEST_CASE("the focus can be put on a row without doing what it does")
{
    const auto page = trial_page();
    page->act(FocusRow{4});
    CHECK(page->view().focused == 4);
    CHECK(page->pressed == 0);
    page->act(FocusRow{99});
    CHECK(page->view().focused == 4);
}

TEST_CASE("left and right change a value, and nothing else does")
{
    const auto page = trial_page();
    press(*page, PressKey::Key::right);
    CHECK(page->value == 0);
    press(*page, PressKey::Key::down);
    press(*page, PressKey::Key::right, 3);
    press(*page, PressKey::Key::left);
    CHECK(page->value == 2);
    page->act(StepPageRow{.row = 1, .by = -1});
    CHECK(page->value == 1);
}

TEST_CASE("a scale begins at its low end, stays within it, and takes the number clicked")
{
    const auto page = trial_page();
    press(*page, PressKey::Key::down, 2);
    press(*page, PressKey::Key::right);
    CHECK(page->rating == 0);
    press(*page, PressKey::Key::right, 30);
    CHECK(page->rating == 10);
    page->act(StepPageRow{.row = 2, .by = 0, .to = 4});
    CHECK(page->rating == 4);
}

TEST_CASE("Enter goes on to the next row until it comes to a button")
{
    const auto page = trial_page();
    press(*page, PressKey::Key::proceed, 2);
    press_letter(*page, '5');  // a scale is not passed over empty
    press(*page, PressKey::Key::proceed);
    CHECK(page->view().focused == 3);
    CHECK(page->pressed == 0);
    press(*page, PressKey::Key::proceed);
    press(*page, PressKey::Key::space);
    CHECK(page->pressed == 2);
}

TEST_CASE("a click presses a button and only goes to a value")
{
    const auto page = trial_page();
    page->act(PickPageRow{1});
    CHECK(page->view().focused == 1);
    CHECK(page->value == 0);
    page->act(PickPageRow{4});
    CHECK(page->pressed == 1);
    page->act(PickPageRow{77});
    page->act(PickPageRow{-1});
    CHECK(page->pressed == 1);
}

TEST_CASE("the focus stays with its row when rows come before it, and inside the page when it goes")
{
    const auto page = trial_page();
    press(*page, PressKey::Key::down, 4);
    page->labels = {"Zero", "Half", "One", "Two", "Three"};
    page->refresh();
    CHECK(page->view().focused == 6);
    page->labels = {};
    page->refresh();
    CHECK(page->view().focused == 2);
}

TEST_CASE("Escape closes the page")
{
    const auto page = trial_page();
    press(*page, PressKey::Key::back);
    CHECK(wishes_of<ClosePage>(*page).size() == 1);
}
