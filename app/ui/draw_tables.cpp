// The choices and the numbers: rows of a name and a value.

#include <algorithm>

#include "app/ui/draw.h"

namespace holdwell {
namespace {

float row_height(const Canvas& c) { return 1.9f * c.em(); }

float chip_width(const Canvas& c, const NoteChip& chip)
{
    return std::max(c.size_of(TextRole::strong, chip.name).x, 1.4f * c.em()) + 1.1f * c.em();
}

void draw_chip(Canvas& c, const Box& box, const NoteChip& chip)
{
    if (c.clickable("chip " + chip.name + std::to_string(static_cast<int>(box.y)), box)) {
        c.events.push_back(PickNote{chip.note});
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

float label_width(const Canvas& c, const ChoicesView& v)
{
    float width = 0.0f;
    for (const ChoiceRow& row : v.rows) {
        width = std::max(width, c.size_of(TextRole::body, row.label).x);
    }
    return width + 1.2f * c.em();
}

void draw_choice(Canvas& c, const ChoicesView& v, int index, Box row)
{
    const Palette& p = c.palette();
    const ChoiceRow& choice = v.rows[static_cast<std::size_t>(index)];
    const bool is_focused = index == v.focused;
    row.cut_bottom(0.2f * c.em());
    if (is_focused) {
        c.fill(row, p.band, 0.35f * c.em());
        c.fill({row.x, row.y, 0.22f * c.em(), row.h}, p.accent, 0.1f * c.em());
    }
    row.cut_left(0.6f * c.em());
    row.cut_right(0.4f * c.em());
    const Box label = row.cut_left(label_width(c, v));
    if (c.clickable("row " + std::to_string(index), label)) c.events.push_back(PickRow{index});
    c.write_line(label, choice.label, {is_focused ? TextRole::strong : TextRole::body, p.ink});
    const float side = std::min(row.h - 0.3f * c.em(), 1.6f * c.em());
    const auto square = [&](Box slot) {
        return Box{slot.x, slot.y + (slot.h - side) / 2, side, side};
    };
    draw_step(c, square(row.cut_left(side)), "\u2190", {index, -1});
    const float value = std::min(12.0f * c.em(), row.w - side);
    c.write_line(row.cut_left(value), choice.value, {TextRole::strong, p.ink, Align::centre});
    draw_step(c, square(row.cut_left(side)), "\u2192", {index, +1});
    row.cut_left(c.em());
    // What it means, where there is room for all of it.
    if (is_focused && c.size_of(TextRole::body, choice.meaning).x <= row.w) {
        c.write_line(row, choice.meaning, {TextRole::body, p.quiet_ink});
    }
}

// A long sentence is wrapped below its name; a figure stands beside it.
float draw_figure(Canvas& c, const Figure& figure, Box box, float name_width)
{
    const Palette& p = c.palette();
    const float before = box.y;
    c.write_line(box.cut_left(name_width), figure.name, {TextRole::body, p.quiet_ink});
    const float used = c.write({box.x, box.y, box.w, box.h}, figure.value, {TextRole::body, p.ink});
    return before + std::max(used, 1.2f * c.em());
}

float figure_height(const Canvas& c, const Figure& figure, float value_width)
{
    return std::max(c.size_of(TextRole::body, figure.value, value_width).y, c.em()) + 0.3f * c.em();
}

}  // namespace

void draw_choices(Canvas& c, const ChoicesView& v, int page)
{
    Box rest = inner_of(c);
    draw_footer(c, rest, v.keys, {.most_rows = 1, .first_is_main = false});
    draw_title(c, rest, v.title);
    const GroupLayout layout = layout_of(c, v, rest.w);
    const auto groups = static_cast<float>(v.notes.size());
    const auto rows = static_cast<float>(v.rows.size());
    const float chips = groups * chips_height(c, layout) + 0.5f * c.em();
    const float height = chips + rows * row_height(c);
    // The row in focus is always in sight: the page follows it.
    const float focus_bottom =
        chips + static_cast<float>(v.focused + 1) * row_height(c) + 1.4f * c.em();
    const int focus_page = focus_bottom > rest.h && height > rest.h ? 99 : 0;
    const Scroller scroller{c, rest, height, std::max(page, focus_page)};
    Box content = scroller.content();
    draw_chips(c, v, layout, content);
    content.cut_top(0.5f * c.em());
    for (int i = 0; i < static_cast<int>(v.rows.size()); ++i) {
        draw_choice(c, v, i, content.cut_top(row_height(c)));
    }
}

void draw_details(Canvas& c, const DetailsView& v, int page)
{
    Box rest = inner_of(c);
    draw_footer(c, rest, v.keys, {.most_rows = 1, .first_is_main = false});
    draw_title(c, rest, v.title);
    rest.cut_top(c.write(rest, v.lead, {TextRole::body, c.palette().quiet_ink}) + 0.6f * c.em());

    const float name_width = std::min(13.0f * c.em(), 0.5f * rest.w);
    const float value_width = std::min(rest.w, 42.0f * c.em()) - name_width;
    float height = 0.0f;
    for (const FigureGroup& g : v.groups) {
        height += 2.0f * c.em();
        for (const Figure& f : g.figures) height += figure_height(c, f, value_width);
    }
    const Scroller scroller{c, rest, height, page};
    Box content = scroller.content();
    content.w = name_width + value_width;
    for (const FigureGroup& g : v.groups) {
        Box title = content.cut_top(2.0f * c.em());
        title.cut_top(0.4f * c.em());
        c.write_line(title, g.title, {TextRole::strong, c.palette().ink});
        for (const Figure& f : g.figures) {
            draw_figure(c, f, content.cut_top(figure_height(c, f, value_width)), name_width);
        }
    }
}

}  // namespace holdwell
