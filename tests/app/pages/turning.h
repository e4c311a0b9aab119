#pragma once
// Short ways to press keys on a page and to look at what it shows and wishes.

#include <doctest/doctest.h>

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "app/pages/page.h"

namespace holdwell::test::turning {

inline void press(Page& page, PressKey::Key key) { page.act(PressKey{.key = key}); }
inline void press_letter(Page& page, char letter)
{
    page.act(PressKey{.key = PressKey::Key::letter, .letter = letter});
}

inline std::vector<RowBlock> rows_of(const PageView& view)
{
    std::vector<RowBlock> rows;
    for (const PageBlock& block : view.blocks) {
        if (const auto* row = std::get_if<RowBlock>(&block)) rows.push_back(*row);
    }
    return rows;
}

// All words of the page, a line each.
inline std::string words_of(const PageView& view)
{
    std::string words = view.title + "\n" + view.lead + "\n" + view.notice + "\n";
    for (const PageBlock& block : view.blocks) {
        if (const auto* text = std::get_if<TextBlock>(&block))
            words += text->heading + "\n" + text->body + "\n";
        if (const auto* row = std::get_if<RowBlock>(&block))
            words += row->label + " " + row->value + "\n" + row->meaning + "\n";
        if (const auto* days = std::get_if<DaysBlock>(&block)) words += days->summary + "\n";
        if (const auto* chart = std::get_if<ChartBlock>(&block))
            words += chart->title + " " + chart->summary + "\n";
    }
    return words;
}

inline bool says(const Page& page, const std::string& what)
{
    return words_of(page.view()).find(what) != std::string::npos;
}

inline void go_to(Page& page, const std::string& label)
{
    for (int i = 0; i < 60; ++i) press(page, PressKey::Key::up);
    int row = 0;
    for (const PageBlock& block : page.view().blocks) {
        const auto* plain = std::get_if<RowBlock>(&block);
        const auto* scale = std::get_if<ScaleBlock>(&block);
        if (plain == nullptr && scale == nullptr) continue;
        if ((plain != nullptr ? plain->label : scale->label) == label) {
            for (int i = 0; i < row; ++i) press(page, PressKey::Key::down);
            return;
        }
        ++row;
    }
    FAIL("there is no row ", label);
}

// The first wish of that kind, all others let go.
template <typename Wish>
std::optional<Wish> wish_of(Page& page)
{
    std::optional<Wish> found;
    for (PageWish& wish : page.take_wishes()) {
        if (auto* hoped = std::get_if<Wish>(&wish); hoped != nullptr && !found)
            found.emplace(std::move(*hoped));
    }
    return found;
}
template <typename Kind>
std::optional<Kind> request_of(Page& page)
{
    std::optional<Kind> found;
    for (PageWish& wish : page.take_wishes()) {
        const auto* ask = std::get_if<Ask>(&wish);
        const auto* hoped = ask != nullptr ? std::get_if<Kind>(&ask->request) : nullptr;
        if (hoped != nullptr && !found) found = *hoped;
    }
    return found;
}

}  // namespace holdwell::test::turning
