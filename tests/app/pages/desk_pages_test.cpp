// What holds for every page of the desk, on typical, empty and extreme records.

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "app/practice/goals.h"
#include "tests/support/desk/desk_cases.h"
#include "tests/support/desk/desk_pages.h"
#include "tests/support/random.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

std::string small_letters(std::string text)
{
    std::ranges::transform(text, text.begin(),
                           [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

// Letters of UTF-8 (RFC 3629): no byte that begins or continues nothing.
bool is_utf8(const std::string& text)
{
    std::size_t i = 0;
    while (i < text.size()) {
        const auto first = static_cast<unsigned char>(text[i]);
        const std::size_t more = first < 0x80             ? 0
                                 : (first & 0xE0) == 0xC0 ? 1
                                 : (first & 0xF0) == 0xE0 ? 2
                                 : (first & 0xF8) == 0xF0 ? 3
                                                          : 99;
        if (more == 99 || i + more >= text.size() + (more == 0 ? 1 : 0)) return false;
        for (std::size_t k = 1; k <= more; ++k)
            if ((static_cast<unsigned char>(text[i + k]) & 0xC0) != 0x80) return false;
        i += more + 1;
    }
    return true;
}

int rows_of(const PageView& view)
{
    return static_cast<int>(std::ranges::count_if(view.blocks, [](const PageBlock& block) {
        return std::holds_alternative<RowBlock>(block) || std::holds_alternative<ScaleBlock>(block);
    }));
}

void check_is_whole(const PageView& view)
{
    CHECK_FALSE(view.title.empty());
    REQUIRE_FALSE(view.keys.empty());
    CHECK(view.keys.back().letter == 27);
    const int rows = rows_of(view);
    CHECK(view.focused.has_value() == (rows > 0));
    if (view.focused) CHECK((*view.focused >= 0 && *view.focused < rows));
    CHECK(is_utf8(words_of(view)));
}

PageEvent anything(Random& random)
{
    using Key = PressKey::Key;
    constexpr std::array kKeys{Key::proceed, Key::space, Key::up,    Key::down,
                               Key::down,    Key::left,  Key::right, Key::erase};
    switch (random.below(5)) {
    case 0:
        return TypeText{random.below(2) == 0 ? "7" : "\u00e9"};
    case 1:
        return PressKey{.key = Key::letter, .letter = static_cast<char>('A' + random.below(26))};
    case 2:
        return PickPageRow{random.below(40) - 2};
    case 3:
        return StepPageRow{.row = random.below(40), .by = random.below(2) == 0 ? -1 : 1};
    default:
        return PressKey{.key = kKeys[static_cast<std::size_t>(random.below(kKeys.size()))]};
    }
}

}  // namespace

TEST_CASE("every page of the desk is whole, whatever the records")
{
    for (const PageCase& given : desk_pages()) {
        CAPTURE(given.name);
        check_is_whole(given.page()->view());
    }
}

TEST_CASE("no page of the desk says anything that reads as a diagnosis, a grade or blame")
{
    constexpr std::array kNever{"diagnos", "patholog",  "disorder",   "abnormal", "dysphon",
                                "healthy", "impair",    "fail",       "bad ",     "poor",
                                "missed",  "score",     "compliance", "lazy",     "improve",
                                "worse",   "deteriorat"};
    for (const PageCase& given : desk_pages()) {
        std::string words = words_of(given.page()->view());
        // The caution says what the ratio is not.
        if (const auto at = words.find(kSzCaution); at != std::string::npos)
            words.erase(at, std::string{kSzCaution}.size());
        words = small_letters(words);
        CAPTURE(given.name);
        for (const std::string never : kNever) {
            CAPTURE(never);
            CHECK(words.find(never) == std::string::npos);
        }
    }
}

TEST_CASE("no key pressed anywhere breaks a page of the desk")
{
    Random random{20260426};
    for (const PageCase& given : desk_pages()) {
        CAPTURE(given.name);
        const bool is_large = given.name.ends_with("extreme");
        const auto page = given.page();
        for (int i = 0; i < (is_large ? 20 : 120); ++i) {
            page->act(anything(random));
            const PageView view = page->view();
            const int rows = rows_of(view);
            REQUIRE(view.focused.has_value() == (rows > 0));
            if (view.focused) REQUIRE((*view.focused >= 0 && *view.focused < rows));
        }
        page->take_wishes();
    }
}

TEST_CASE("a chart's points lie within its days, and its axis holds them and the goal")
{
    for (const PageCase& given : desk_pages()) {
        if (!given.name.starts_with("progress")) continue;
        CAPTURE(given.name);
        int charts = 0;
        for (const PageBlock& block : given.page()->view().blocks) {
            const auto* chart = std::get_if<ChartBlock>(&block);
            if (chart == nullptr) continue;
            ++charts;
            CAPTURE(chart->title);
            CHECK(chart->goal.value_or(0.0) <= chart->last_value);
            for (const auto& point : chart->points) {
                REQUIRE((point.day >= 0.0 && point.day <= chart->days));
                REQUIRE((point.value >= chart->first_value && point.value <= chart->last_value));
            }
            for (const auto& point : chart->line)
                REQUIRE((point.day >= 0.0 && point.day <= chart->days));
        }
        CHECK((given.name == "progress-empty" ? charts == 0 : charts > 8));
    }
}
