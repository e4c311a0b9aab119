#include <algorithm>
#include <cmath>

#include "app/ui/draw.h"

namespace holdwell {
namespace {

float gap_in(const Canvas& c) { return 0.45f * c.em(); }  // between a key and its word
float gap_out(const Canvas& c) { return 1.5f * c.em(); }  // between two keys
float padding(const Canvas& c) { return 0.7f * c.em(); }

std::vector<std::vector<KeyHint>> rows_of(const Canvas& c, const std::vector<KeyHint>& keys,
                                          float width)
{
    std::vector<std::vector<KeyHint>> rows(1);
    float used = 0.0f;
    for (const KeyHint& key : keys) {
        const float w = button_width(c, key, ButtonLook::plain);
        if (!rows.back().empty() && used + w > width) {
            rows.emplace_back();
            used = 0.0f;
        }
        rows.back().push_back(key);
        used += w + gap_out(c);
    }
    return rows;
}

// Leaves out the third last, then the third last again: the last two (help, leave) always stay.
std::vector<std::vector<KeyHint>> fitted_rows(const Canvas& c, std::vector<KeyHint> keys,
                                              const Box& box, std::size_t most_rows)
{
    auto rows = rows_of(c, keys, box.w);
    while (rows.size() > most_rows && keys.size() > 2) {
        keys.erase(keys.end() - 3);
        rows = rows_of(c, keys, box.w);
    }
    return rows;
}

void draw_rows(Canvas& c, Box box, const std::vector<std::vector<KeyHint>>& rows)
{
    for (const auto& row : rows) {
        Box line = box.cut_top(button_height(c));
        for (const KeyHint& key : row) {
            draw_button(c, line.cut_left(button_width(c, key, ButtonLook::plain)), key,
                        ButtonLook::plain);
            line.cut_left(gap_out(c));
        }
    }
}

}  // namespace

Box inner_of(const Canvas& c)
{
    const Box w = c.window();
    const float x = std::clamp(0.05f * w.w, 20.0f * c.unit(), 96.0f * c.unit());
    const float top = std::clamp(0.055f * w.h, 16.0f * c.unit(), 56.0f * c.unit());
    const float bottom = std::clamp(0.03f * w.h, 12.0f * c.unit(), 28.0f * c.unit());
    return {w.x + x, w.y + top, w.w - 2 * x, w.h - top - bottom};
}

void draw_title(Canvas& c, Box& rest, const std::string& title)
{
    c.write_line(rest.cut_top(1.15f * c.line_height(TextRole::note)), title,
                 {TextRole::note, c.palette().ink});
    rest.cut_top(0.4f * c.em());
}

float button_height(const Canvas& c) { return 1.75f * c.em(); }

float button_width(const Canvas& c, const KeyHint& hint, ButtonLook look)
{
    const float words = c.size_of(TextRole::strong, hint.key).x + gap_in(c) +
                        c.size_of(TextRole::body, hint.does).x;
    return std::ceil(look == ButtonLook::plain ? words : words + 2.0f * padding(c)) + 1.0f;
}

void draw_button(Canvas& c, const Box& box, const KeyHint& hint, ButtonLook look)
{
    const Palette& p = c.palette();
    const std::string id = hint.key + "##" + hint.does;
    if (c.clickable(id, box)) c.events.push_back(hint.event);
    const bool hovered = c.is_hovered(box);
    const float rounding = 0.35f * c.em();
    Colour key_colour = p.ink;
    Colour word_colour = hovered ? p.accent : p.quiet_ink;
    if (look == ButtonLook::filled) {
        c.fill(box, hovered ? blend(p.accent, p.ink, 0.2) : p.accent, rounding);
        key_colour = word_colour = p.on_accent;
    }
    if (look == ButtonLook::framed) c.frame(box, hovered ? p.accent : p.middle, rounding);
    Box words = box;
    if (look != ButtonLook::plain) {
        words.cut_left(padding(c));
        words.cut_right(padding(c));
    }
    const float key_width = c.size_of(TextRole::strong, hint.key).x;
    c.write_line(words.cut_left(key_width + 1.0f), hint.key, {TextRole::strong, key_colour});
    words.cut_left(gap_in(c) - 1.0f);
    c.write_line(words, hint.does, {TextRole::body, word_colour});
}

void draw_footer(Canvas& c, Box& rest, const std::vector<KeyHint>& keys, const FooterStyle& style)
{
    std::vector<KeyHint> others = keys;
    Box first_place{};
    Box whole = rest;
    if (style.first_is_main && !keys.empty()) {
        others.erase(others.begin());
        first_place.w = button_width(c, keys.front(), ButtonLook::filled);
        whole.cut_left(first_place.w + gap_out(c));
    }
    const auto rows = fitted_rows(c, others, whole, static_cast<std::size_t>(style.most_rows));
    const float height =
        std::max(static_cast<float>(rows.size()) * button_height(c), button_height(c));
    Box footer = rest.cut_bottom(height);
    rest.cut_bottom(0.6f * c.em());
    c.rule(footer.x, footer.right(), footer.y - 0.3f * c.em());
    if (style.first_is_main && !keys.empty()) {
        Box button = footer.cut_left(first_place.w);
        draw_button(c, button.cut_top(button_height(c)), keys.front(), ButtonLook::filled);
        footer.cut_left(gap_out(c));
    }
    draw_rows(c, footer, rows);
}

float meter_width(const Canvas& c) { return static_cast<float>(MeterView::kSteps) * 0.6f * c.em(); }

void draw_meter(Canvas& c, const Box& box, const MeterView& meter)
{
    const float step = box.w / static_cast<float>(MeterView::kSteps);
    const float height = std::min(box.h, 0.85f * c.em());
    for (int i = 0; i < MeterView::kSteps; ++i) {
        const Box bar{box.x + static_cast<float>(i) * step, box.y + (box.h - height) / 2.0f,
                      0.62f * step, height};
        c.fill(bar, i < meter.lit ? c.palette().accent : c.palette().unlit, 0.2f * step);
    }
}

void draw_footer(Canvas& c, Box& rest, const std::vector<KeyHint>& keys, const MeterView& meter)
{
    const float words = c.size_of(TextRole::body, meter.words).x;
    const float wanted = words + 0.8f * c.em() + meter_width(c);
    constexpr std::size_t kRows = 2;
    Box beside = rest;
    beside.cut_right(wanted + gap_out(c));
    auto rows = rows_of(c, keys, beside.w);
    const bool is_beside = rows.size() == 1;
    if (!is_beside) {
        // The meter takes a row of its own where there is room for one.
        const bool roomy = rest.h > 11.0f * button_height(c);
        rows = fitted_rows(c, keys, rest, roomy ? kRows : 1);
    }
    const float height = static_cast<float>(rows.size() + (is_beside ? 0 : 1)) * button_height(c);
    Box footer = rest.cut_bottom(height);
    rest.cut_bottom(0.6f * c.em());
    c.rule(footer.x, footer.right(), footer.y - 0.3f * c.em());
    Box meter_row = is_beside ? footer : footer.cut_top(button_height(c));
    draw_meter(c, meter_row.cut_right(meter_width(c)), meter);
    meter_row.cut_right(0.8f * c.em());
    c.write_line(is_beside ? meter_row.cut_right(words + 2.0f) : meter_row, meter.words,
                 {TextRole::body, c.palette().quiet_ink, Align::right});
    draw_rows(c, footer, rows);
}

Scroller::Scroller(Canvas& canvas, const Box& box, float content_height, int page)
    : canvas_{canvas}, box_{box}
{
    const float hidden = std::max(0.0f, content_height - box.h);
    const float step = 0.75f * box.h;
    canvas_.last_page = static_cast<int>(std::ceil(hidden / std::max(step, 1.0f)));
    const float offset = std::min(hidden, static_cast<float>(page) * step);
    left_below_ = hidden - offset;
    if (hidden > 0.0f) box_.cut_bottom(1.2f * canvas_.em());
    content_ = {box.x, box.y - offset, box.w, content_height};
    canvas_.push_clip(box_);
}

Scroller::~Scroller()
{
    canvas_.pop_clip();
    if (canvas_.last_page == 0) return;
    const Box more{box_.x, box_.bottom(), box_.w, 1.2f * canvas_.em()};
    const bool is_below = left_below_ > 1.0f;
    const TextStyle style{TextRole::strong, canvas_.palette().accent, Align::centre};
    canvas_.write_line(more, is_below ? "\u2193 more" : "\u2191 back to the top", style);
    if (!canvas_.clickable("more", more)) return;
    canvas_.events.push_back(is_below ? Event{Action::page_down} : Event{Action::page_up});
}

}  // namespace holdwell
