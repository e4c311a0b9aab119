#include <algorithm>
#include <cmath>
#include <iterator>
#include <vector>

#include "app/ui/draw.h"

namespace holdwell {
namespace {

float gap_in(const Canvas& c) { return 0.45f * c.em(); }  // between a key and its word
float gap_out(const Canvas& c) { return 1.3f * c.em(); }  // between two keys
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

float button_height(const Canvas& c) { return (c.is_tight() ? 1.4f : 1.75f) * c.em(); }

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

KeyRows key_rows(const Canvas& c, std::vector<KeyHint> keys, float width, std::size_t most_rows)
{
    KeyRows plan{rows_of(c, keys, width), 0.0f};
    while (plan.rows.size() > most_rows && keys.size() > 1) {
        keys.erase(keys.end() - (keys.size() > 2 ? 3 : 2));
        plan.rows = rows_of(c, keys, width);
    }
    plan.height = static_cast<float>(plan.rows.size()) * button_height(c);
    return plan;
}

void draw_key_rows(Canvas& c, Box box, const KeyRows& plan)
{
    for (const auto& row : plan.rows) {
        Box line = box.cut_top(button_height(c));
        for (const KeyHint& key : row) {
            draw_button(c, line.cut_left(button_width(c, key, ButtonLook::plain)), key,
                        ButtonLook::plain);
            line.cut_left(gap_out(c));
        }
    }
}

void draw_footer(Canvas& c, Box& rest, const std::vector<KeyHint>& keys)
{
    const float main_width = std::min(button_width(c, keys.front(), ButtonLook::filled), rest.w);
    const std::vector<KeyHint> others{keys.begin() + 1, keys.end()};
    const float beside = rest.w - main_width - gap_out(c);
    KeyRows plan = key_rows(c, others, beside, others.size());
    // Below the main key where they would take several rows beside it.
    float widest = 0.0f;
    for (const KeyHint& key : others) {
        widest = std::max(widest, button_width(c, key, ButtonLook::plain));
    }
    bool is_beside = plan.rows.size() == 1 && widest <= beside;
    // Where lines are few, one for keys: the way out before the others.
    if (!is_beside && c.is_tight() && !others.empty()) {
        const float out = button_width(c, others.back(), ButtonLook::plain);
        is_beside = out <= beside;
        if (is_beside) plan = key_rows(c, others, beside, 1);
    }
    if (!is_beside) plan = key_rows(c, others, rest.w, 1);
    Box footer = rest.cut_bottom(is_beside ? button_height(c) : plan.height + button_height(c));
    rest.cut_bottom(0.6f * c.em());
    c.rule(footer.x, footer.right(), footer.y - 0.3f * c.em());
    Box first = footer.cut_top(button_height(c));
    draw_button(c, first.cut_left(main_width), keys.front(), ButtonLook::filled);
    first.cut_left(gap_out(c));
    draw_key_rows(c, is_beside ? first : footer, plan);
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

MeterFooter plan_footer(const Canvas& c, const std::vector<KeyHint>& keys, const MeterView& meter,
                        FooterSize size)
{
    const float width = inner_of(c).w;
    const float words = c.size_of(TextRole::body, meter.words).x + 0.8f * c.em();
    const float bars = meter_width(c) + gap_out(c);
    MeterFooter plan;
    plan.words = meter.words;
    plan.meter_width = meter_width(c);
    plan.keys = key_rows(c, keys, width - bars - words, keys.size());
    plan.height = button_height(c);
    if (plan.keys.rows.size() == 1) return plan;
    if (size == FooterSize::one_row) {
        plan.words.clear();
        plan.meter_width = std::min(meter_width(c), 0.2f * width);
        plan.keys = key_rows(c, keys, width - plan.meter_width - gap_out(c), 1);
        return plan;
    }
    plan.meter_is_beside = false;
    plan.keys = key_rows(c, keys, width, 2);
    plan.height += plan.keys.height;
    return plan;
}

void draw_footer(Canvas& c, Box& rest, const MeterFooter& plan, const MeterView& meter)
{
    Box footer = rest.cut_bottom(plan.height);
    rest.cut_bottom(0.6f * c.em());
    c.rule(footer.x, footer.right(), footer.y - 0.3f * c.em());
    Box row = plan.meter_is_beside ? footer : footer.cut_top(button_height(c));
    draw_meter(c, row.cut_right(plan.meter_width), meter);
    row.cut_right(0.8f * c.em());
    const float words = c.size_of(TextRole::body, plan.words).x + 2.0f;
    c.write_line(row.cut_right(words), plan.words,
                 {TextRole::body, c.palette().quiet_ink, Align::right});
    draw_key_rows(c, footer, plan.keys);
}

namespace {

float more_height(const Canvas& c) { return (c.is_tight() ? 0.95f : 1.2f) * c.em(); }

// Where each page of the content begins. What the lower edge would cut is whole on the next one.
std::vector<float> page_tops(const Scroller::Content& content, float room)
{
    std::vector<float> tops{0.0f};
    const auto& pieces = content.pieces;
    while (tops.back() + room < content.height - 1.0f) {
        const float end = tops.back() + room;
        auto cut = std::ranges::find_if(
            pieces, [end](const Piece& piece) { return piece.at.bottom > end + 1.0f; });
        if (cut == pieces.end()) break;
        // A heading goes with what it heads.
        while (cut != pieces.begin() && std::prev(cut)->is_heading) --cut;
        const bool is_new = cut->at.top > tops.back() + 1.0f;
        tops.push_back(is_new ? cut->at.top : tops.back() + 0.75f * room);
    }
    return tops;
}

// Of content in one piece, a page turns by less than it shows.
std::vector<float> even_tops(const Canvas& c, float height, float room)
{
    const float line = 1.3f * c.line_height(TextRole::line);
    const float step = std::max(std::min(0.75f * room, room - line), 0.3f * room);
    const float hidden = std::max(0.0f, height - room);
    std::vector<float> tops{0.0f};
    while (tops.back() < hidden) tops.push_back(std::min(hidden, tops.back() + step));
    return tops;
}

int page_with(const std::vector<float>& tops, const Sight& sight)
{
    int page = 0;
    while (page + 1 < static_cast<int>(tops.size()) &&
           tops[static_cast<std::size_t>(page) + 1] <= sight.top + 1.0f)
        ++page;
    return page;
}

}  // namespace

Scroller::Scroller(Canvas& canvas, const Box& box, const Content& content)
    : canvas_{canvas}, box_{box}
{
    if (content.height > box.h) box_.cut_bottom(more_height(canvas_));
    const bool has_pieces = !content.pieces.empty();
    const std::vector<float> tops =
        has_pieces ? page_tops(content, box_.h) : even_tops(canvas, content.height, box_.h);
    const int last = static_cast<int>(tops.size()) - 1;
    int page = std::clamp(content.page, 0, last);
    if (content.sight && has_pieces) page = page_with(tops, *content.sight);
    float offset = tops[static_cast<std::size_t>(page)];
    if (content.sight && !has_pieces) {
        offset = std::max(offset, content.sight->bottom - box_.h);
        offset = std::min(offset, content.sight->top);
        offset = std::clamp(offset, 0.0f, tops.back());
    }
    canvas_.last_page = last;
    canvas_.seen.page = page;
    is_more_below_ = tops.back() - offset > 1.0f;
    content_ = {box.x, box.y - offset, box.w, content.height};
    canvas_.push_clip(box_);
}

Scroller::~Scroller()
{
    canvas_.pop_clip();
    if (canvas_.last_page == 0) return;
    const Box more{box_.x, box_.bottom(), box_.w, more_height(canvas_)};
    const auto role = canvas_.is_tight() ? TextRole::small : TextRole::strong;
    const TextStyle style{role, canvas_.palette().accent, Align::centre};
    canvas_.write_line(more, is_more_below_ ? "\u2193 more" : "\u2191 back", style);
    if (!canvas_.clickable("more", more)) return;
    canvas_.events.push_back(is_more_below_ ? Event{Action::page_down} : Event{Action::page_up});
}

}  // namespace holdwell
