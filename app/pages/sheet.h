#pragma once
// A page's blocks together with what is done at its rows: what a page lays out, anew after every
// event.

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "app/pages/page.h"

namespace holdwell {

// What can be done at one row; what is empty cannot be done there.
struct RowActions {
    std::function<void()> proceed{};       // a button, a link; a text: when it is entered
    std::function<void(int by)> step{};    // a value, a scale: -1 or +1
    std::function<void(int to)> choose{};  // a scale: the number clicked
    std::function<void(const std::string&)> typed{};  // a text: all of it, after every letter
    std::string proceed_does{};                       // "open": said beside Enter
};

struct KeyAction {
    PageKeyHint hint{};
    std::function<void()> press{};
};

struct ButtonRow {
    std::string label{};
    std::string meaning{};
    std::string does{"do this"};
    RowBlock::Size size{RowBlock::Size::usual};
};
struct ValueRow {
    std::string label{};
    std::string value{};
    std::string meaning{};
    std::string fault{};
};
struct TextRow {
    std::string label{};
    std::string text{};  // as typed so far
    std::string meaning{};
    std::string fault{};
    enum class Shown { plain, hidden } shown{Shown::plain};
    std::string does{"enter it"};  // Enter, where it can be entered
};
struct LinkRow {
    std::string label{};
    std::vector<std::string> columns{};
    std::string meaning{};
    std::string does{"open"};
};

class Sheet {
public:
    std::string title;
    std::string lead;
    std::string notice;

    void add(PageBlock block);  // not a row, nor a scale
    void say(std::string heading, std::string body,
             TextBlock::Weight weight = TextBlock::Weight::plain);
    void button(ButtonRow row, std::function<void()> press);
    void link(LinkRow row, std::function<void()> open);
    void value(ValueRow row, std::function<void(int by)> step);
    void text(TextRow row, std::function<void(const std::string&)> typed,
              std::function<void()> entered = {});
    void scale(ScaleBlock row, std::function<void(int to)> choose);
    void key(PageKeyHint hint, std::function<void()> press);

    const std::vector<PageBlock>& blocks() const { return blocks_; }
    const std::vector<KeyAction>& keys() const { return keys_; }
    int row_count() const { return static_cast<int>(rows_.size()); }
    const RowActions& actions_at(int row) const { return rows_[static_cast<std::size_t>(row)]; }
    const PageBlock& block_at(int row) const;
    std::string label_at(int row) const;
    bool takes_text(int row) const;

private:
    void add_row(PageBlock block, RowActions actions);

    std::vector<PageBlock> blocks_;
    std::vector<std::size_t> row_blocks_;  // the block of each row
    std::vector<RowActions> rows_;
    std::vector<KeyAction> keys_;
};

}  // namespace holdwell
