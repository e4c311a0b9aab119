// The glide path: semitones upwards, time to the right, named at its ends.

#include <algorithm>

#include "app/ui/draw.h"

namespace holdwell {
namespace {

struct Frame {
    Box box;
    double length_s;
    double height_semitones;
    ImVec2 at(const PathPoint& p) const
    {
        const double x = std::clamp(p.at_s / length_s, 0.0, 1.0);
        const double y = std::clamp(p.semitones / height_semitones, 0.0, 1.0);
        return {box.x + box.w * static_cast<float>(x),
                box.bottom() - box.h * static_cast<float>(y)};
    }
};

void draw_path(const Canvas& c, const std::vector<PathPoint>& path, const Frame& f, Colour colour)
{
    if (path.empty()) return;
    const float width = (colour == c.palette().accent ? 7.0f : 3.0f) * c.unit();
    std::vector<ImVec2> points;
    for (const PathPoint& p : path) {
        const ImVec2 at = f.at(p);
        if (points.empty() || at.x - points.back().x >= 0.75f) points.push_back(at);
    }
    c.list().AddPolyline(points.data(), static_cast<int>(points.size()), packed(colour), 0, width);
    c.list().AddCircleFilled(points.front(), width / 2, packed(colour));
    c.list().AddCircleFilled(points.back(), width / 2, packed(colour));
}

void draw_fry_zone(Canvas& c, const GlideView& v, const Frame& f)
{
    if (!v.fry_below_semitones) return;
    const float top = f.at({0.0, *v.fry_below_semitones}).y;
    const Box zone{f.box.x, top, f.box.w, f.box.bottom() - top};
    c.fill(zone, blend(c.palette().band, c.palette().middle, 0.5));
    const float small = c.line_height(TextRole::small);
    if (zone.h < small) return;
    c.write_line({zone.right() - 4 * small, zone.y, 3.5f * small, zone.h}, "fry",
                 {TextRole::small, c.palette().ink, Align::right});
}

void draw_lines(Canvas& c, const GlideView& v, const Frame& f, const Box& gutter)
{
    const float small = c.line_height(TextRole::small);
    float free_below = gutter.bottom() + small;
    for (const NoteLine& line : v.lines) {
        const float y = f.at({0.0, line.semitones}).y;
        c.rule(f.box.x, f.box.right(), y);
        // The lowest and the highest name are pushed inside; what would then meet is left out.
        const float top = std::clamp(y - small / 2, gutter.y, gutter.bottom() - small);
        if (top + small > free_below || f.box.h < 2.0f * small) continue;
        c.write_line({gutter.x, top, gutter.w, small}, line.name,
                     {TextRole::small, c.palette().quiet_ink, Align::right});
        free_below = top;
    }
}

// A dashed line through the break and a word above it; words that would meet are left out.
void draw_breaks(Canvas& c, const GlideView& v, const Frame& f)
{
    const float u = c.unit();
    const float small = c.line_height(TextRole::small);
    float free_from = f.box.x;
    for (const GlideMark& mark : v.breaks) {
        const float x = f.at({mark.at_s, 0.0}).x;
        for (float y = f.box.y; y < f.box.bottom(); y += 12 * u) {
            c.list().AddLine({x, y}, {x, std::min(y + 6 * u, f.box.bottom())},
                             packed(c.palette().quiet_ink), 2 * u);
        }
        const float width = c.size_of(TextRole::small, mark.name).x + 1;
        const float left = std::clamp(x - width / 2, f.box.x, f.box.right() - width);
        const bool has_room = f.box.h > 4.0f * small && left >= free_from;
        if (!has_room) continue;
        c.write_line({left, f.box.y - small - 2 * u, width, small}, mark.name,
                     {TextRole::small, c.palette().quiet_ink});
        free_from = left + width + 6 * u;
    }
}

void draw_end(Canvas& c, const std::optional<PathPoint>& end, const std::string& name,
              const Frame& f)
{
    const float u = c.unit();
    const float strong = c.line_height(TextRole::strong);
    if (!end || name.empty() || f.box.h < 2.5f * strong) return;
    const float width = c.size_of(TextRole::strong, name).x + 1;
    const ImVec2 at = f.at(*end);
    const float y = std::clamp(at.y - strong / 2, f.box.y, f.box.bottom() - strong);
    const bool is_left = at.x < f.box.x + f.box.w / 2;
    const Box box{is_left ? at.x + 10 * u : at.x - width - 10 * u, y, width, strong};
    c.fill({box.x - 4 * u, box.y, box.w + 8 * u, box.h}, c.palette().band, 4 * u);
    c.write_line(box, name, {TextRole::strong, c.palette().ink});
}

}  // namespace

void draw_glide(Canvas& c, const GlideView& v, Box box)
{
    const float u = c.unit();
    const float small = c.line_height(TextRole::small);
    Box gutter = box.cut_left(c.size_of(TextRole::small, "C4").x + 4 * u);
    box.cut_left(10 * u);
    if (box.h > 4.0f * small) {
        box.cut_top(small + 4 * u);
        box.cut_bottom(small / 2);
    }
    const Frame f{box, v.length_s, v.height_semitones};
    c.fill(box, c.palette().band, 10 * u);
    draw_fry_zone(c, v, f);
    draw_lines(c, v, f, gutter);
    for (const auto& path : v.previous) draw_path(c, path, f, c.palette().middle);
    for (const auto& path : v.strokes) draw_path(c, path, f, c.palette().accent);
    draw_breaks(c, v, f);
    draw_end(c, v.lowest, v.lowest_name, f);
    draw_end(c, v.highest, v.highest_name, f);
}

}  // namespace holdwell
