// The choices and the numbers: rows of a name and a value.

#include <algorithm>

#include "app/ui/draw.h"

namespace holdwell {
namespace {

float chip_width(const Canvas& c, const NoteChip& chip)
{
    return std::max(c.size_of(TextRole::strong, chip.name).x, 1.4f * c.em()) + 1.1f * c.em();
}

void draw_chip(Canvas& c, const Box& box, const NoteChip& chip)
{
    const bool is_warm_up = chip.pick.kind == DrillKind::warm_up_hold;
    if (c.clickable((is_warm_up ? "warm-up " : "ladder ") + chip.name, box)) {
        c.events.push_back(chip.pick);
    }
    const float rounding = 0.35f * c.em();
    const Palette& p = c.palette();
    if (chip.chosen) {
        c.fill(box, p.accent, rounding);
    } else {
        c.frame(box, c.is_hovered(box) ? p.accent : p.middle, rounding);
    }
    c.write_line(box, chip.name,
                 {TextRole::strong, chip.chosen ? p.on_accent : p.ink, Align::centre});
}

// Name and value beside each other where there is room, else the value below.
struct RowLayout {
    float label_width{0.0f};
    bool is_beside{true};
    float height{0.0f};
};

RowLayout row_layout(const Canvas& c, const ChoicesView& v, float width)
{
    RowLayout layout;
    float value = 0.0f;
    for (const ChoiceRow& row : v.rows) {
        const float label = c.size_of(TextRole::strong, row.label).x + 1.2f * c.em();
        layout.label_width = std::max(layout.label_width, label);
        value = std::max(value, c.size_of(TextRole::strong, row.value).x);
    }
    layout.is_beside = layout.label_width + value + 5.0f * c.em() <= width;
    layout.height = (layout.is_beside ? 1.9f : 3.2f) * c.em();
    return layout;
}

// A name and its chips: beside each other where there is room, else one above the other.
struct GroupLayout {
    float name_width{0.0f};
    bool is_beside{true};
};

GroupLayout layout_of(const Canvas& c, const ChoicesView& v, float width)
{
    GroupLayout layout;
    float chips = 0.0f;
    for (std::size_t i = 0; i < v.notes.size(); ++i) {
        float row = 0.0f;
        for (const NoteChip& chip : v.notes[i]) row += chip_width(c, chip) + 0.5f * c.em();
        chips = std::max(chips, row);
        layout.name_width =
            std::max(layout.name_width, c.size_of(TextRole::body, v.note_groups[i]).x + c.em());
    }
    layout.is_beside = layout.name_width + chips <= width;
    return layout;
}

float chips_height(const Canvas& c, const GroupLayout& l)
{
    return l.is_beside ? 2.1f * c.em() : 3.3f * c.em();
}

void draw_chips(Canvas& c, const ChoicesView& v, const GroupLayout& l, Box& content)
{
    for (std::size_t i = 0; i < v.notes.size(); ++i) {
        Box row = content.cut_top(chips_height(c, l));
        row.cut_bottom(0.4f * c.em());
        Box name = l.is_beside ? row.cut_left(l.name_width) : row.cut_top(1.2f * c.em());
        c.write_line(name, v.note_groups[i], {TextRole::body, c.palette().quiet_ink});
        for (const NoteChip& chip : v.notes[i]) {
            draw_chip(c, row.cut_left(chip_width(c, chip)), chip);
            row.cut_left(0.5f * c.em());
        }
    }
}

void draw_step(Canvas& c, const Box& box, const char* sign, const StepRow& step)
{
    const std::string id = "step " + std::to_string(step.row) + sign;
    if (c.clickable(id, box)) c.events.push_back(step);
    c.frame(box, c.is_hovered(box) ? c.palette().accent : c.palette().middle, 0.3f * c.em());
    c.write_line(box, sign, {TextRole::strong, c.palette().ink, Align::centre});
}

void draw_value(Canvas& c, const ChoiceRow& choice, int index, Box& row)
{
    const float side = std::min(row.h - 0.3f * c.em(), 1.5f * c.em());
    const auto square = [&](const Box& slot) {
        return Box{slot.x, slot.y + (slot.h - side) / 2, side, side};
    };
    draw_step(c, square(row.cut_left(side)), "\u2190", {index, -1});
    const float value = std::min(12.0f * c.em(), row.w - side);
    c.write_line(row.cut_left(value), choice.value,
                 {TextRole::strong, c.palette().ink, Align::centre});
    draw_step(c, square(row.cut_left(side)), "\u2192", {index, +1});
}

void draw_choice(Canvas& c, const ChoicesView& v, int index, Box row)
{
    const Palette& p = c.palette();
    const ChoiceRow& choice = v.rows[static_cast<std::size_t>(index)];
    const RowLayout layout = row_layout(c, v, row.w);
    const bool is_focused = index == v.focused;
    row.cut_bottom(0.2f * c.em());
    if (is_focused) {
        c.fill(row, p.band, 0.35f * c.em());
        c.fill({row.x, row.y, 0.22f * c.em(), row.h}, p.accent, 0.1f * c.em());
    }
    row.cut_left(0.6f * c.em());
    row.cut_right(0.4f * c.em());
    const Box label = layout.is_beside ? row.cut_left(layout.label_width) : row.cut_top(row.h / 2);
    if (c.clickable("row " + std::to_string(index), label)) c.events.push_back(PickRow{index});
    c.write_line(label, choice.label, {is_focused ? TextRole::strong : TextRole::body, p.ink});
    draw_value(c, choice, index, row);
    row.cut_left(c.em());
    // What it means, where there is room for all of it.
    if (is_focused && c.size_of(TextRole::body, choice.meaning).x <= row.w) {
        c.write_line(row, choice.meaning, {TextRole::body, p.quiet_ink});
    }
}

// Names beside their values, or above them where the names are too wide.
struct FigureLayout {
    float name_width{0.0f};
    bool is_beside{true};
};

FigureLayout layout_of(const Canvas& c, const DetailsView& v, float width)
{
    FigureLayout layout;
    for (const FigureGroup& g : v.groups) {
        for (const Figure& f : g.figures) {
            const float name = c.size_of(TextRole::body, f.name).x + 1.5f * c.em();
            layout.name_width = std::max(layout.name_width, name);
        }
    }
    layout.is_beside = layout.name_width <= 0.55f * width;
    return layout;
}

float draw_figure(Canvas& c, const Figure& f, const FigureLayout& l, Box box)
{
    const TextStyle name{TextRole::body, c.palette().quiet_ink};
    const TextStyle value{TextRole::body, c.palette().ink};
    const float gap = 0.25f * c.em();
    if (l.is_beside) {
        const float used = c.write(box.cut_left(l.name_width), f.name, name);
        return std::max(used, c.write(box, f.value, value)) + gap;
    }
    const float used = c.write(box, f.name, name);
    box.cut_top(used);
    box.cut_left(c.em());
    return used + c.write(box, f.value, value) + gap;
}

float draw_groups(Canvas& c, const DetailsView& v, Box box)
{
    box.w = std::min(box.w, 42.0f * c.em());
    const FigureLayout layout = layout_of(c, v, box.w);
    const float top = box.y;
    box.cut_top(c.write(box, v.lead, {TextRole::body, c.palette().quiet_ink}));
    for (const FigureGroup& g : v.groups) {
        box.cut_top(0.8f * c.em());
        box.cut_top(c.write(box, g.title, {TextRole::strong, c.palette().ink}) + 0.2f * c.em());
        for (const Figure& f : g.figures) box.cut_top(draw_figure(c, f, layout, box));
    }
    return box.y - top;
}

}  // namespace

void draw_choices(Canvas& c, const ChoicesView& v)
{
    Box rest = inner_of(c);
    draw_footer(c, rest, v.keys);
    if (rest.h > 12.0f * c.em()) draw_title(c, rest, v.title);
    if (rest.h > 22.0f * c.em()) rest.cut_top(0.6f * c.em());
    const GroupLayout groups = layout_of(c, v, rest.w);
    const RowLayout rows = row_layout(c, v, rest.w);
    const float chips = static_cast<float>(v.notes.size()) * chips_height(c, groups);
    const float first = chips + 0.5f * c.em();
    const float row = first + static_cast<float>(v.focused) * rows.height;
    const Scroller scroller{c,
                            rest,
                            {.height = first + static_cast<float>(v.rows.size()) * rows.height,
                             .page = 0,
                             .sight = Sight{v.focused == 0 ? 0.0f : row, row + rows.height}}};
    Box content = scroller.content();
    draw_chips(c, v, groups, content);
    content.cut_top(0.5f * c.em());
    for (int i = 0; i < static_cast<int>(v.rows.size()); ++i) {
        draw_choice(c, v, i, content.cut_top(rows.height));
    }
}

void draw_details(Canvas& c, const DetailsView& v, int page)
{
    Box rest = inner_of(c);
    draw_footer(c, rest, v.keys);
    if (rest.h > 12.0f * c.em()) draw_title(c, rest, v.title);
    draw_scrolled(c, rest, page, [&](const Box& box) { return draw_groups(c, v, box); });
}

}  // namespace holdwell
