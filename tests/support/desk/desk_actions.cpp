#include "tests/support/desk/desk_pages.h"

namespace holdwell::test {
namespace {

std::string label_of(const PageBlock& block)
{
    if (const auto* row = std::get_if<RowBlock>(&block)) return row->label;
    if (const auto* scale = std::get_if<ScaleBlock>(&block)) return scale->label;
    return {};
}

bool is_row(const PageBlock& block)
{
    return std::holds_alternative<RowBlock>(block) || std::holds_alternative<ScaleBlock>(block);
}

class WordCollector {
public:
    void add(const std::string& text) { all_ += text + "\n"; }
    void operator()(const TextBlock& b)
    {
        add(b.heading);
        add(b.body);
    }
    void operator()(const RowBlock& b)
    {
        add(b.label);
        if (b.kind != RowBlock::Kind::hidden_text) add(b.value);
        for (const std::string& column : b.columns) add(column);
        add(b.meaning);
        add(b.fault);
    }
    void operator()(const ColumnHeadBlock& b)
    {
        for (const std::string& name : b.names) add(name);
    }
    void operator()(const ChartBlock& b)
    {
        add(b.title);
        add(b.summary);
        add(b.goal_name);
    }
    void operator()(const DaysBlock& b) { add(b.summary); }
    void operator()(const SharesBlock& b)
    {
        add(b.title);
        for (const auto& share : b.shares) add(share.name);
    }
    void operator()(const ScaleBlock& b)
    {
        add(b.label);
        add(b.low);
        add(b.high);
    }
    void operator()(const TableBlock& b)
    {
        for (const std::string& name : b.head) add(name);
        for (const auto& row : b.rows)
            for (const std::string& cell : row) add(cell);
    }
    std::string all() const { return all_; }

private:
    std::string all_;
};

}  // namespace

void press(Page& page, PressKey::Key key, int times)
{
    for (int i = 0; i < times; ++i) page.act(PressKey{.key = key});
}

void press_letter(Page& page, char letter)
{
    page.act(PressKey{.key = PressKey::Key::letter, .letter = letter});
}

void type(Page& page, const std::string& text) { page.act(TypeText{text}); }

std::vector<std::string> labels_of(const Page& page)
{
    std::vector<std::string> labels;
    for (const PageBlock& block : page.view().blocks)
        if (is_row(block)) labels.push_back(label_of(block));
    return labels;
}

Found go_to(Page& page, const std::string& label)
{
    const auto labels = labels_of(page);
    press(page, PressKey::Key::up, static_cast<int>(labels.size()));
    for (const std::string& at : labels) {
        if (at == label) return Found::yes;
        press(page, PressKey::Key::down);
    }
    return Found::no;
}

Found do_at(Page& page, const std::string& label)
{
    if (go_to(page, label) == Found::no) return Found::no;
    press(page, PressKey::Key::proceed);
    return Found::yes;
}

std::optional<std::string> value_at(const Page& page, const std::string& label)
{
    for (const PageBlock& block : page.view().blocks)
        if (const auto* row = std::get_if<RowBlock>(&block); row && row->label == label)
            return row->value;
    return {};
}

std::string words_of(const PageView& view)
{
    WordCollector words;
    words.add(view.title);
    words.add(view.lead);
    words.add(view.notice);
    for (const PageBlock& block : view.blocks) std::visit(words, block);
    return words.all();
}

}  // namespace holdwell::test
