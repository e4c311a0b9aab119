// The hold ribbon: one hold from its onset at the left towards the goal, drawn as a shore.

#include <algorithm>
#include <cmath>

#include "app/ui/draw.h"

namespace holdwell {
namespace {

// Where time and deviation lie in the picture.
struct Frame {
    Box band;
    double length_s;
    bool has_names;  // above and below; a low ribbon has room for its marks alone
    float x_of(double at_s) const
    {
        return band.x + band.w * static_cast<float>(std::clamp(at_s / length_s, 0.0, 1.0));
    }
    float middle() const { return band.y + band.h / 2.0f; }
    float y_of(double height) const
    {
        return middle() - band.h / 2.0f * static_cast<float>(height);
    }
};

float rounding_of(const Frame& f) { return std::min(0.14f * f.band.h, 0.02f * f.band.w); }

// Without a shore the ribbon has no end: it fades into the paper.
void draw_open_end(const Canvas& c, const Frame& f, float from)
{
    const ImU32 band = packed(c.palette().band);
    const ImU32 paper = packed(c.palette().paper);
    c.list().AddRectFilledMultiColor({from, f.band.y}, {f.band.right(), f.band.bottom()}, band,
                                     paper, paper, band);
}

void draw_band(const Canvas& c, const RibbonView& v, const Frame& f)
{
    const Palette& p = c.palette();
    const Box& b = f.band;
    const float rounding = rounding_of(f);
    const float shore = v.shore_s ? f.x_of(*v.shore_s) : b.right() - 0.12f * b.w;
    c.list().AddRectFilled({b.x, b.y}, {shore, b.bottom()}, packed(p.band), rounding,
                           ImDrawFlags_RoundCornersLeft);
    if (!v.shore_s) {
        draw_open_end(c, f, shore);
    } else if (shore < b.right() - 1.0f) {
        // Beyond the goal the ribbon unrolls, paler.
        c.list().AddRectFilled({shore, b.y}, {b.right(), b.bottom()},
                               packed(blend(p.paper, p.band, 0.55)), rounding,
                               ImDrawFlags_RoundCornersRight);
    }
    if (v.middle.empty()) return;
    c.list().AddLine({b.x, f.middle()}, {v.shore_s ? b.right() : shore, f.middle()},
                     packed(p.middle), std::max(1.0f, 1.5f * c.unit()));
}

void draw_filled(const Canvas& c, const RibbonView& v, const Frame& f)
{
    if (!v.filled_s || *v.filled_s <= 0.0) return;
    const float end = f.x_of(*v.filled_s);
    const float rounding = std::min(rounding_of(f), (end - f.band.x) / 2.0f);
    c.list().AddRectFilled({f.band.x, f.band.y}, {end, f.band.bottom()},
                           packed(blend(c.palette().band, c.palette().accent, 0.55)), rounding);
}

void draw_side_names(Canvas& c, const RibbonView& v, const Box& gutter, const Frame& f)
{
    if (v.middle.empty()) return;
    const float small = c.line_height(TextRole::small);
    const float strong = c.line_height(TextRole::strong);
    const Colour quiet = c.palette().quiet_ink;
    const auto at = [&](float y, float h) { return Box{gutter.x, y, gutter.w, h}; };
    c.write_line(at(f.middle() - strong / 2, strong), v.middle,
                 {TextRole::strong, c.palette().ink, Align::right});
    // Three names need the room of three lines.
    if (f.band.h < 2.0f * small + strong + 4.0f * c.unit()) return;
    c.write_line(at(f.band.y, small), v.high, {TextRole::small, quiet, Align::right});
    c.write_line(at(f.band.bottom() - small, small), v.low, {TextRole::small, quiet, Align::right});
}

void draw_ticks(Canvas& c, const RibbonView& v, const Frame& f)
{
    const float u = c.unit();
    const float small = c.line_height(TextRole::small);
    const float name_room = 2.6f * small;
    const bool is_named = f.has_names && f.x_of(v.tick_s) - f.x_of(0.0) >= name_room;
    for (double t = v.tick_s; t < v.length_s - 0.01; t += v.tick_s) {
        const float x = f.x_of(t);
        c.list().AddLine({x, f.band.bottom()}, {x, f.band.bottom() + 9 * u},
                         packed(c.palette().quiet_ink), std::max(1.0f, 1.5f * u));
        const bool is_at_shore = v.shore_s && std::abs(f.x_of(*v.shore_s) - x) < 0.6f * name_room;
        if (!is_named || is_at_shore || x + name_room / 2 > c.window().right()) continue;
        const Box name{x - name_room / 2, f.band.bottom() + 12 * u, name_room, small};
        c.write_line(name, std::to_string(std::lround(t)),
                     {TextRole::small, c.palette().quiet_ink, Align::centre});
    }
}

// Where the shore's own name stands; nothing when it is beside the ribbon.
Box draw_shore(Canvas& c, const RibbonView& v, const Frame& f)
{
    if (!v.shore_s) return {};
    const float u = c.unit();
    const float x = f.x_of(*v.shore_s);
    const float over = 14.0f * u;
    c.list().AddLine({x, f.band.y - over}, {x, f.band.bottom() + over}, packed(c.palette().accent),
                     5.0f * u);
    const TextStyle style{TextRole::strong, c.palette().accent};
    const ImVec2 size = c.size_of(TextRole::strong, v.shore_name);
    if (x >= f.band.right() - 1.0f) {
        c.write_line({x + 14 * u, f.middle() - size.y / 2, size.x + 1, size.y}, v.shore_name,
                     style);
        return {};
    }
    if (!f.has_names) return {};
    const Box name{x - size.x / 2, f.band.y - over - size.y - 2 * u, size.x + 1, size.y};
    c.write_line(name, v.shore_name, style);
    return name;
}

void draw_notch(Canvas& c, const RibbonView& v, const Frame& f, const Box& shore_name)
{
    if (!v.notch_s) return;
    const float u = c.unit();
    const float x = f.x_of(*v.notch_s);
    c.list().AddLine({x, f.band.y - 12 * u}, {x, f.band.y + 10 * u}, packed(c.palette().ink),
                     3.0f * u);
    const ImVec2 size = c.size_of(TextRole::small, v.notch_name);
    // Centred above the notch, but inside the window and clear of the shore that rises beside it.
    float left = std::min(x - size.x / 2, c.window().right() - size.x - 8 * u);
    if (v.shore_s) {
        const float shore = f.x_of(*v.shore_s);
        if (x < shore) left = std::min(left, shore - size.x - 8 * u);
        if (x >= shore) left = std::max(left, shore + 8 * u);
    }
    const Box name{left, f.band.y - 14 * u - size.y, size.x + 1, size.y};
    const bool meets_shore = shore_name.w > 0.0f && name.x < shore_name.right() + 6 * u &&
                             shore_name.x < name.right() + 6 * u;
    const bool fits = name.x >= f.band.x - size.x / 2 && name.right() <= c.window().right();
    if (meets_shore || !fits || !f.has_names) return;
    c.write_line(name, v.notch_name, {TextRole::small, c.palette().quiet_ink, Align::left});
}

struct Pen {
    ImU32 colour;
    float width;
};

void draw_polyline(const Canvas& c, const std::vector<ImVec2>& points, const Pen& pen)
{
    if (points.empty()) return;
    c.list().AddPolyline(points.data(), static_cast<int>(points.size()), pen.colour, 0, pen.width);
    // Round ends; also what a stroke of a single point is seen by.
    c.list().AddCircleFilled(points.front(), pen.width / 2, pen.colour);
    c.list().AddCircleFilled(points.back(), pen.width / 2, pen.colour);
}

bool is_inside(const InkPoint& p) { return std::abs(p.height) <= 1.0; }

// Where the line from a to b crosses the band's edge.
InkPoint crossing(const InkPoint& a, const InkPoint& b)
{
    const double edge = std::max(a.height, b.height) > 1.0 ? 1.0 : -1.0;
    const double span = b.height - a.height;
    const double share = span == 0.0 ? 0.0 : (edge - a.height) / span;
    return {a.at_s + share * (b.at_s - a.at_s), edge};
}

// Full inside the band, thinner outside: it counts less and is no fault.
void draw_stroke(const Canvas& c, const InkStroke& stroke, const Frame& f)
{
    const float u = c.unit();
    const Pen full{packed(c.palette().accent), 7.0f * u};
    const Pen thin{packed(c.palette().quiet_ink), 3.0f * u};
    std::vector<ImVec2> run;
    for (std::size_t i = 0; i < stroke.size(); ++i) {
        const InkPoint& p = stroke[i];
        if (i > 0 && is_inside(p) != is_inside(stroke[i - 1])) {
            const InkPoint edge = crossing(stroke[i - 1], p);
            const ImVec2 at{f.x_of(edge.at_s), f.y_of(edge.height)};
            run.push_back(at);
            draw_polyline(c, run, is_inside(p) ? thin : full);
            run.assign(1, at);
        }
        const ImVec2 at{f.x_of(p.at_s), f.y_of(p.height)};
        // Closer than a pixel's half there is nothing to see.
        const bool is_last = i + 1 == stroke.size();
        if (run.empty() || is_last || at.x - run.back().x >= 0.75f) run.push_back(at);
    }
    if (!stroke.empty()) draw_polyline(c, run, is_inside(stroke.back()) ? full : thin);
}

void draw_gaps(const Canvas& c, const RibbonView& v, const Frame& f)
{
    const float u = c.unit();
    for (const double at_s : v.gaps_s) {
        // A small open bracket under the middle line: a shape of its own, not a colour.
        const float x = f.x_of(at_s);
        const float y = f.band.bottom() - 6 * u;
        c.list().AddTriangleFilled({x - 6 * u, y + 6 * u}, {x + 6 * u, y + 6 * u}, {x, y - 3 * u},
                                   packed(c.palette().quiet_ink));
    }
}

void draw_tip(const Canvas& c, const PenTip& tip, const Frame& f)
{
    const float radius = (8.0f + 6.0f * static_cast<float>(tip.breath)) * c.unit();
    const ImVec2 at{f.x_of(tip.point.at_s), f.y_of(tip.point.height)};
    c.list().AddCircleFilled(at, radius, packed(c.palette().accent), 32);
    c.list().AddCircleFilled(at, 0.5f * radius, packed(c.palette().paper), 24);
}

// Room at the left for the names of high, low and the note, at the right for the shore's. Gives the
// left one.
Box cut_gutters(const Canvas& c, const RibbonView& v, Box& box)
{
    const float u = c.unit();
    if (v.shore_s) box.cut_right(c.size_of(TextRole::strong, v.shore_name).x + 18 * u);
    if (v.middle.empty()) return {};
    const float names =
        std::max({c.size_of(TextRole::small, v.high).x, c.size_of(TextRole::strong, v.middle).x,
                  c.size_of(TextRole::small, v.low).x});
    const Box gutter = box.cut_left(names + 2 * u);
    box.cut_left(14 * u);
    return gutter;
}

// Above and below the band: a quarter of it for ink outside it, or more for the names.
Frame frame_of(const Canvas& c, const RibbonView& v, const Box& box)
{
    const float names = c.line_height(TextRole::strong) + 17.0f * c.unit();
    const bool has_names = box.h >= 2.0f * names + 60.0f * c.unit();
    const float least = v.middle.empty() ? box.h / 4.0f : box.h / 6.0f;
    const float room = has_names ? std::max(least, names) : least;
    return {{box.x, box.y + room, box.w, box.h - 2.0f * room}, v.length_s, has_names};
}

}  // namespace

void draw_ribbon(Canvas& c, const RibbonView& v, Box box)
{
    const Box gutter = cut_gutters(c, v, box);
    const Frame f = frame_of(c, v, box);
    draw_side_names(c, v, gutter, f);
    draw_band(c, v, f);
    draw_filled(c, v, f);
    const Box shore_name = draw_shore(c, v, f);
    draw_ticks(c, v, f);
    draw_notch(c, v, f, shore_name);
    for (const InkStroke& stroke : v.ink) draw_stroke(c, stroke, f);
    draw_gaps(c, v, f);
    if (v.tip) draw_tip(c, *v.tip, f);
}

}  // namespace holdwell
