// Near enough, shown while somebody sings: the band alone, drawn to scale, and the last seconds of
// the voice upon it. Newest at the right.

#include <algorithm>
#include <cmath>

#include "app/ui/draw.h"

namespace holdwell {
namespace {

struct Frame {
    Box box;
    double shown_cents;
    double seconds;
    float y_of(double cents) const
    {
        const double share = std::clamp(cents / shown_cents, -1.0, 1.0);
        return box.y + box.h / 2 - box.h / 2 * static_cast<float>(share);
    }
    float x_of(double before_now_s) const
    {
        return box.right() + box.w * static_cast<float>(before_now_s / seconds);
    }
};

void draw_band(Canvas& c, const ToleranceView& v, const Frame& f)
{
    const Palette& p = c.palette();
    const float top = f.y_of(v.band_cents);
    const float bottom = f.y_of(-v.band_cents);
    c.fill({f.box.x, top, f.box.w, bottom - top}, p.band, 10 * c.unit());
    c.rule(f.box.x, f.box.right(), f.y_of(0.0));
    for (const float y : {top, bottom}) {
        c.list().AddLine({f.box.x, y}, {f.box.right(), y}, packed(p.accent), 2 * c.unit());
    }
}

void draw_trace(const Canvas& c, const ToleranceView& v, const Frame& f)
{
    for (const InkStroke& stroke : v.ink) {
        std::vector<ImVec2> points;
        for (const InkPoint& p : stroke) {
            const ImVec2 at{f.x_of(p.at_s), f.y_of(p.height)};
            if (points.empty() || at.x - points.back().x >= 0.75f) points.push_back(at);
        }
        c.list().AddPolyline(points.data(), static_cast<int>(points.size()),
                             packed(c.palette().accent), 0, 5 * c.unit());
    }
    if (!v.now_cents) return;
    const ImVec2 at{f.box.right(), f.y_of(*v.now_cents)};
    c.list().AddCircleFilled(at, 11 * c.unit(), packed(c.palette().accent), 32);
    c.list().AddCircleFilled(at, 5 * c.unit(), packed(c.palette().paper), 24);
}

void draw_names(Canvas& c, const ToleranceView& v, const Frame& f, const Box& gutter)
{
    const float strong = c.line_height(TextRole::strong);
    c.write_line({gutter.x, f.y_of(0.0) - strong / 2, gutter.w, strong}, v.note,
                 {TextRole::strong, c.palette().ink, Align::right});
}

// The buttons in as many rows as they need; `y` moves below them.
float draw_edges(Canvas& c, const std::vector<KeyHint>& edges, Box box)
{
    const float row = 1.2f * button_height(c);
    float x = box.x;
    float y = box.y;
    for (const KeyHint& hint : edges) {
        const float width = std::min(button_width(c, hint, ButtonLook::framed), box.w);
        if (x > box.x && x + width > box.right()) {
            x = box.x;
            y += row;
        }
        if (box.h > 0.0f) draw_button(c, {x, y, width, button_height(c)}, hint, ButtonLook::framed);
        x += width + 0.6f * c.em();
    }
    return y + row - box.y;
}

float edges_height(Canvas& c, const std::vector<KeyHint>& edges, float width)
{
    return draw_edges(c, edges, {0.0f, 0.0f, width, 0.0f});
}

}  // namespace

void draw_tolerance(Canvas& c, const ToleranceView& v)
{
    const Palette& p = c.palette();
    Box rest = inner_of(c);
    draw_footer(c, rest, plan_footer(c, v.keys, v.meter, FooterSize::one_row), v.meter);
    if (rest.h > 18.0f * c.em()) {
        draw_title(c, rest, v.title);
        rest.cut_top(c.write(rest, v.lead, {TextRole::body, p.quiet_ink}) + 0.5f * c.em());
    }
    // The buttons that fit; the keys they name work all the same, and the help names them.
    std::vector<KeyHint> edges = v.edges;
    while (edges.size() > 2 && edges_height(c, edges, rest.w) > 0.35f * rest.h) edges.pop_back();
    draw_edges(c, edges, rest.cut_bottom(edges_height(c, edges, rest.w)));
    Box words = rest.cut_bottom(c.size_of(TextRole::line, v.line, rest.w).y + 0.4f * c.em());
    c.write(words, v.line, {TextRole::line, p.ink, Align::centre});
    Box band = rest.cut_top(1.2f * c.line_height(TextRole::note));
    c.write_line(band.cut_left(c.size_of(TextRole::note, v.band).x + 2), v.band,
                 {TextRole::note, p.ink});
    band.cut_left(c.em());
    if (c.size_of(TextRole::body, v.band_meaning).x <= band.w) {
        c.write_line(band, v.band_meaning, {TextRole::body, p.quiet_ink});
    }
    rest.cut_top(0.3f * c.em());
    rest.cut_bottom(0.3f * c.em());
    const Box gutter = rest.cut_left(c.size_of(TextRole::strong, v.note).x + 2);
    rest.cut_left(0.6f * c.em());
    rest.cut_right(14 * c.unit());
    if (rest.h < c.em()) return;
    const Frame f{rest, v.shown_cents, v.seconds_shown};
    draw_band(c, v, f);
    draw_trace(c, v, f);
    draw_names(c, v, f, gutter);
}

}  // namespace holdwell
