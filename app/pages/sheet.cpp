#include "app/pages/sheet.h"

#include <algorithm>
#include <utility>

namespace holdwell {

void Sheet::add(PageBlock block) { blocks_.push_back(std::move(block)); }

void Sheet::say(std::string heading, std::string body, TextBlock::Weight weight)
{
    add(TextBlock{.heading = std::move(heading), .body = std::move(body), .weight = weight});
}

void Sheet::add_row(PageBlock block, RowActions actions)
{
    row_blocks_.push_back(blocks_.size());
    blocks_.push_back(std::move(block));
    rows_.push_back(std::move(actions));
}

void Sheet::button(ButtonRow row, std::function<void()> press)
{
    add_row(RowBlock{.kind = RowBlock::Kind::button,
                     .label = std::move(row.label),
                     .meaning = std::move(row.meaning),
                     .size = row.size},
            {.proceed = std::move(press), .proceed_does = std::move(row.does)});
}

void Sheet::link(LinkRow row, std::function<void()> open)
{
    add_row(RowBlock{.kind = RowBlock::Kind::link,
                     .label = std::move(row.label),
                     .columns = std::move(row.columns),
                     .meaning = std::move(row.meaning)},
            {.proceed = std::move(open), .proceed_does = std::move(row.does)});
}

void Sheet::value(ValueRow row, std::function<void(int by)> step)
{
    add_row(RowBlock{.kind = RowBlock::Kind::value,
                     .label = std::move(row.label),
                     .value = std::move(row.value),
                     .meaning = std::move(row.meaning),
                     .fault = std::move(row.fault)},
            {.step = std::move(step), .proceed_does = "next"});
}

void Sheet::text(TextRow row, std::function<void(const std::string&)> typed,
                 std::function<void()> entered)
{
    std::string does = entered ? std::move(row.does) : "next";
    add_row(RowBlock{.kind = row.shown == TextRow::Shown::hidden ? RowBlock::Kind::hidden_text
                                                                 : RowBlock::Kind::text,
                     .label = std::move(row.label),
                     .value = std::move(row.text),
                     .meaning = std::move(row.meaning),
                     .fault = std::move(row.fault)},
            {.proceed = std::move(entered),
             .typed = std::move(typed),
             .proceed_does = std::move(does)});
}

void Sheet::scale(ScaleBlock row, std::function<void(int to)> choose)
{
    // From none chosen, left and right both begin at the low end.
    const int now = row.value.value_or(-1);
    auto step = [choose, now](int by) { choose(std::clamp(now < 0 ? 0 : now + by, 0, 10)); };
    add_row(std::move(row),
            {.step = std::move(step), .choose = std::move(choose), .proceed_does = "next"});
}

void Sheet::key(PageKeyHint hint, std::function<void()> press)
{
    keys_.push_back({std::move(hint), std::move(press)});
}

const PageBlock& Sheet::block_at(int row) const
{
    return blocks_[row_blocks_[static_cast<std::size_t>(row)]];
}

std::string Sheet::label_at(int row) const
{
    const PageBlock& block = block_at(row);
    if (const auto* scale = std::get_if<ScaleBlock>(&block)) return scale->label;
    return std::get<RowBlock>(block).label;
}

bool Sheet::takes_text(int row) const
{
    const auto* block = std::get_if<RowBlock>(&block_at(row));
    return block != nullptr &&
           (block->kind == RowBlock::Kind::text || block->kind == RowBlock::Kind::hidden_text);
}

}  // namespace holdwell
