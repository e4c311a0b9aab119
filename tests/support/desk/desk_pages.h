#pragma once
// Every page of the therapist's desk, and of the client, opened on those records and answered as the records would.

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "app/pages/page.h"

namespace holdwell::test {

struct PageCase {
    std::string name;  // "roster", "roster-empty", "roster-extreme"
    std::function<std::unique_ptr<Page>()> page;
};
std::vector<PageCase> desk_pages();
// The client's own: "today", "before-pain", "summary-extreme".
std::vector<PageCase> client_pages();

// What a person does, in short.
void press(Page& page, PressKey::Key key, int times = 1);
void press_letter(Page& page, char letter);
void type(Page& page, const std::string& text);
// Down to the row of that label; false when there is none.
enum class Found { yes, no };
Found go_to(Page& page, const std::string& label);
Found do_at(Page& page, const std::string& label);  // goes there and proceeds
// The value beside the label; absent when there is no such row.
std::optional<std::string> value_at(const Page& page, const std::string& label);
std::vector<std::string> labels_of(const Page& page);
// All words of the page, one after the other.
std::string words_of(const PageView& view);

template <typename Wish>
std::vector<Wish> wishes_of(Page& page)
{
    std::vector<Wish> found;
    for (PageWish& wish : page.take_wishes())
        if (auto* one = std::get_if<Wish>(&wish)) found.push_back(std::move(*one));
    return found;
}
// The requests of that kind that the page asks for now.
template <typename Asked>
std::vector<Asked> requests_of(Page& page)
{
    std::vector<Asked> found;
    for (Ask& ask : wishes_of<Ask>(page))
        if (auto* one = std::get_if<Asked>(&ask.request)) found.push_back(std::move(*one));
    return found;
}

}  // namespace holdwell::test
