// What can be gone to on a page: buttons, values, texts, links and scales.

#include <algorithm>
#include <string>

#include "app/ui/draw_page.h"

namespace holdwell {
namespace {

using Kind = RowBlock::Kind;

constexpr float kStackGap = 0.3f;  // em, above a label that stands over its value

float row_height(const Canvas& c) { return (c.is_tight() ? 1.4f : 1.8f) * c.em(); }

bool is_large(const Canvas& c, const RowBlock& b)
{
    return b.size == RowBlock::Size::large && !c.is_tight();
}

float large_height(const Canvas& c) { return 1.7f * c.line_height(TextRole::line); }

bool is_typed(Kind kind) { return kind == Kind::text || kind == Kind::hidden_text; }

void draw_focus(const Canvas& c, const Box& row)
{
    c.fill(row, c.palette().band, 0.35f * c.em());
    c.fill({row.x, row.y, 0.22f * c.em(), row.h}, c.palette().accent, 0.1f * c.em());
}

TextStyle label_style(const Canvas& c, bool is_focused)
{
    return {is_focused ? TextRole::strong : TextRole::body, c.palette().ink};
}

void draw_stepper(Canvas& c, const Box& box, const char* sign, const StepPageRow& step)
{
    const std::string id = "page step " + std::to_string(step.row) + sign;
    if (c.clickable(id, box)) c.events.emplace_back(step);
    c.frame(box, c.is_hovered(box) ? c.palette().accent : c.palette().middle, 0.3f * c.em());
    c.write_line(box, sign, {TextRole::strong, c.palette().ink, Align::centre});
}

void draw_value(Canvas& c, const RowBlock& b, int row, Box box)
{
    const float side = std::min(1.45f * c.em(), box.h - 0.2f * c.em());
    const auto square = [&](const Box& slot) {
        return Box{slot.x, slot.y + (slot.h - side) / 2, side, side};
    };
    draw_stepper(c, square(box.cut_left(side)), "\u2190", {row, -1, {}});
    const float room = std::max(4.0f * c.em(), box.w - side);
    const float value =
        std::min({room, box.w - side,
                  std::max(9.0f * c.em(), c.size_of(TextRole::strong, b.value).x + c.em())});
    c.write_line(box.cut_left(value), b.value, {TextRole::strong, c.palette().ink, Align::centre});
    draw_stepper(c, square(box.cut_left(side)), "\u2192", {row, +1, {}});
}

// What is typed, its end always in sight, with a mark where the next letter goes.
void draw_typed(Canvas& c, const RowBlock& b, bool is_focused, Box box)
{
    box.y += 0.1f * c.em();
    box.h -= 0.2f * c.em();
    c.fill(box, c.palette().paper, 0.3f * c.em());
    c.frame(box, is_focused ? c.palette().accent : c.palette().middle, 0.3f * c.em());
    Box text = box.inset(0.45f * c.em());
    std::string shown = b.value;
    if (b.kind == Kind::hidden_text) {
        const auto letters = std::ranges::count_if(
            b.value, [](char ch) { return (static_cast<unsigned char>(ch) & 0xC0U) != 0x80U; });
        shown.clear();
        for (std::ptrdiff_t i = 0; i < letters; ++i) shown += "\u2022";
    }
    const float room = text.w - 0.3f * c.em();
    std::size_t from = 0;
    while (from < shown.size() && c.size_of(TextRole::body, shown.substr(from)).x > room) {
        ++from;
        while (from < shown.size() && (static_cast<unsigned char>(shown[from]) & 0xC0U) == 0x80U) {
            ++from;
        }
    }
    shown.erase(0, from);
    text.y = box.y;
    text.h = box.h;
    c.write_line(text, shown, {TextRole::body, c.palette().ink});
    if (!is_focused) return;
    const float x = text.x + c.size_of(TextRole::body, shown).x + 0.08f * c.em();
    c.fill({x, box.y + 0.3f * c.em(), std::max(1.0f, 2.0f * c.unit()), box.h - 0.6f * c.em()},
           c.palette().accent);
}

void draw_columns(Canvas& c, const std::vector<std::string>& columns, const TextStyle& style,
                  Box box)
{
    if (columns.empty()) return;
    const float width = box.w / static_cast<float>(columns.size());
    for (const std::string& column : columns) {
        Box cell = box.cut_left(width);
        cell.cut_right(0.4f * c.em());
        c.write_line(cell, column, style);
    }
}

std::string joined(const std::vector<std::string>& columns)
{
    std::string all;
    for (const std::string& column : columns) {
        if (column.empty()) continue;
        all += all.empty() ? column : ", " + column;
    }
    return all;
}

void draw_link(Canvas& c, const RowBlock& b, const RowPlace& place, Box box)
{
    if (!b.columns.empty() && !place.columns.is_beside) {
        Box below = box;
        box.h = row_height(c);
        below.cut_top(box.h);
        c.write(below, joined(b.columns), {TextRole::body, c.palette().quiet_ink});
    }
    const Box mark = box.cut_right(1.2f * c.em());
    c.write_line(mark, "\u203A", {TextRole::strong, c.palette().accent, Align::right});
    const bool has_columns = !b.columns.empty() && place.columns.is_beside;
    Box label = has_columns ? box.cut_left(place.columns.label_width) : box;
    label.cut_right(0.4f * c.em());
    if (b.columns.empty() && !b.value.empty()) {
        const float value = std::min(0.6f * label.w, c.size_of(TextRole::body, b.value).x + 2.0f);
        c.write_line(label.cut_right(value), b.value,
                     {TextRole::body, c.palette().quiet_ink, Align::right});
    }
    c.write_line(label, b.label, label_style(c, place.is_focused));
    if (has_columns) draw_columns(c, b.columns, {TextRole::body, c.palette().ink}, box);
}

void draw_button_row(Canvas& c, const RowBlock& b, const RowPlace& place, Box box)
{
    const auto role = is_large(c, b) ? TextRole::heading : TextRole::strong;
    const float width = c.size_of(role, b.label).x + (is_large(c, b) ? 3.2f : 1.8f) * c.em();
    Box button = box.cut_left(std::min(width, box.w));
    button.y += 0.1f * c.em();
    button.h -= 0.2f * c.em();
    const Palette& p = c.palette();
    if (place.is_focused) {
        c.fill(button, p.accent, 0.35f * c.em());
    } else {
        c.frame(button, c.is_hovered(button) ? p.accent : p.middle, 0.35f * c.em());
    }
    c.write_line(button, b.label, {role, place.is_focused ? p.on_accent : p.ink, Align::centre});
    box.cut_left(0.8f * c.em());
    if (!b.value.empty()) c.write_line(box, b.value, {TextRole::body, p.quiet_ink});
}

// With what belongs to a row below its label, where there is no room beside it.
float height_of_row(const Canvas& c, const RowBlock& b, const RowPlace& place, float width)
{
    const float room = width - 1.0f * c.em();
    const bool has_value = b.kind == Kind::value || is_typed(b.kind);
    if (is_large(c, b)) return large_height(c);
    if (place.columns.is_beside || b.kind == Kind::button) return row_height(c);
    if (has_value) {
        const float label = c.size_of(TextRole::strong, b.label, room).y;
        return label + kStackGap * c.em() + row_height(c);
    }
    if (b.columns.empty()) return row_height(c);
    return row_height(c) + c.size_of(TextRole::body, joined(b.columns), room).y + 0.2f * c.em();
}

void draw_row_line(Canvas& c, const RowBlock& b, const RowPlace& place, Box line)
{
    const std::string id = "page row " + std::to_string(place.row);
    if (b.kind == Kind::button) {
        if (c.clickable(id, line)) c.events.emplace_back(PickPageRow{place.row});
        return draw_button_row(c, b, place, line);
    }
    if (place.is_focused) draw_focus(c, line);
    line.cut_left(0.6f * c.em());
    line.cut_right(0.4f * c.em());
    if (b.kind == Kind::link) {
        if (c.clickable(id, line)) c.events.emplace_back(PickPageRow{place.row});
        return draw_link(c, b, place, line);
    }
    const bool is_beside = place.columns.is_beside;
    const Box label =
        is_beside ? line.cut_left(place.columns.label_width) : line.cut_top(line.h - row_height(c));
    if (c.clickable(id, label)) c.events.emplace_back(PickPageRow{place.row});
    if (is_beside) {
        c.write_line(label, b.label, label_style(c, place.is_focused));
    } else {
        c.write({label.x, label.y + kStackGap * c.em(), label.w, label.h}, b.label,
                label_style(c, place.is_focused));
    }
    if (!is_typed(b.kind)) return draw_value(c, b, place.row, line);
    if (c.clickable(id + " text", line)) c.events.emplace_back(PickPageRow{place.row});
    draw_typed(c, b, place.is_focused, line);
}

}  // namespace

RowColumns row_columns(const Canvas& c, const PageView& view, float width)
{
    RowColumns columns;
    bool has_values = false;
    float value = 0.0f;
    for (const PageBlock& block : view.blocks) {
        const auto* row = std::get_if<RowBlock>(&block);
        if (row == nullptr || row->kind == Kind::button) continue;
        if (row->kind == Kind::link && row->columns.empty()) continue;
        const float label = c.size_of(TextRole::strong, row->label).x + 1.2f * c.em();
        columns.label_width = std::max(columns.label_width, label);
        has_values = has_values || row->kind == Kind::value || is_typed(row->kind);
        if (row->kind == Kind::value) {
            value = std::max(value, c.size_of(TextRole::strong, row->value).x + 4.0f * c.em());
        } else if (is_typed(row->kind)) {
            value = std::max(value, 12.0f * c.em());
        } else {
            for (const std::string& text : row->columns) {
                const float all = static_cast<float>(row->columns.size());
                value = std::max(value,
                                 all * std::min(5.0f * c.em(), c.size_of(TextRole::body, text).x));
            }
        }
    }
    // What is typed or stepped through needs its label whole; a list may shorten one long name.
    const float most = has_values ? columns.label_width : 0.55f * width;
    columns.label_width = std::min(columns.label_width, most);
    columns.is_beside = columns.label_width + value <= 1.2f * width && most <= 0.75f * width;
    return columns;
}

float draw_row_block(Canvas& c, const RowBlock& b, const RowPlace& place, Box box)
{
    const float top = box.y;
    draw_row_line(c, b, place, box.cut_top(height_of_row(c, b, place, box.w)));
    box.cut_left(0.6f * c.em());
    box.w = std::min(box.w, 42.0f * c.em());
    if (!b.fault.empty()) {
        box.cut_top(c.write(box, "\u2191 " + b.fault, {TextRole::strong, c.palette().accent}) +
                    0.2f * c.em());
    }
    if (place.is_focused && !b.meaning.empty()) {
        box.cut_top(c.write(box, b.meaning, {TextRole::body, c.palette().quiet_ink}) +
                    0.3f * c.em());
    }
    return box.y - top;
}

float draw_column_heads(Canvas& c, const ColumnHeadBlock& b, const RowColumns& columns, Box box)
{
    if (b.names.empty() || !columns.is_beside) return 0.0f;
    Box line = box.cut_top(1.4f * c.line_height(TextRole::small));
    const float height = line.h;
    const TextStyle style{TextRole::small, c.palette().quiet_ink};
    line.cut_left(0.6f * c.em());
    line.cut_right(1.6f * c.em());
    c.write_line(line.cut_left(columns.label_width), b.names.front(), style);
    draw_columns(c, {b.names.begin() + 1, b.names.end()}, style, line);
    return height;
}

float draw_scale_block(Canvas& c, const ScaleBlock& b, const RowPlace& place, Box box)
{
    constexpr int kSteps = 11;
    const float top = box.y;
    const Palette& p = c.palette();
    box.w = std::min(box.w, 42.0f * c.em());
    box.cut_top(0.3f * c.em());
    box.cut_top(c.write(box, b.label, label_style(c, place.is_focused)) + 0.35f * c.em());
    const float gap = std::min(0.25f * c.em(), 0.006f * box.w);
    const float side = std::min(2.2f * c.em(), (box.w - gap * (kSteps - 1)) / kSteps);
    Box row = box.cut_top(std::max(1.5f * c.em(), 0.8f * side));
    const float width = side * kSteps + gap * (kSteps - 1);
    for (int i = 0; i < kSteps; ++i) {
        const Box cell = row.cut_left(side);
        row.cut_left(gap);
        const std::string number = std::to_string(i);
        const std::string id = "scale " + std::to_string(place.row) + " " + number;
        if (c.clickable(id, cell)) c.events.emplace_back(StepPageRow{place.row, 0, i});
        const bool is_chosen = b.value == i;
        if (is_chosen) {
            c.fill(cell, p.accent, 0.3f * c.em());
        } else {
            const bool lit = place.is_focused || c.is_hovered(cell);
            c.frame(cell, lit ? p.accent : p.middle, 0.3f * c.em());
        }
        c.write_line(cell, number,
                     {TextRole::strong, is_chosen ? p.on_accent : p.ink, Align::centre});
    }
    box.cut_top(0.2f * c.em());
    Box ends = box.cut_top(1.2f * c.em());
    ends.w = std::min(ends.w, width);
    c.write_line(ends.cut_left(ends.w / 2), b.low, {TextRole::body, p.quiet_ink});
    c.write_line(ends, b.high, {TextRole::body, p.quiet_ink, Align::right});
    box.cut_top(0.5f * c.em());
    return box.y - top;
}

}  // namespace holdwell
