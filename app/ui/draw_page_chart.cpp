// A chart: points over days, the medians joined, the goal as a dashed shore.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/ui/draw_page.h"

namespace holdwell {
namespace {

struct Plot {
    Box box;
    const ChartBlock& chart;
    float x_of(double day) const
    {
        const double share = chart.days > 0.0 ? std::clamp(day / chart.days, 0.0, 1.0) : 0.0;
        return box.x + box.w * static_cast<float>(share);
    }
    float y_of(double value) const
    {
        const double span = std::max(chart.last_value - chart.first_value, 1e-9);
        const double share = std::clamp((value - chart.first_value) / span, 0.0, 1.0);
        return box.bottom() - box.h * static_cast<float>(share);
    }
};

// 1, 2 or 5 times a power of ten, so that at most `most` steps lie in the span.
double step_for(double span, int most)
{
    const double least = std::max(span, 1e-9) / most;
    const double power = std::pow(10.0, std::floor(std::log10(least)));
    for (const double factor : {1.0, 2.0, 5.0}) {
        if (factor * power >= least - 1e-12) return factor * power;
    }
    return 10.0 * power;
}

void dashes(const Canvas& c, ImVec2 from, ImVec2 to, Colour colour)
{
    const float dash = 7.0f * c.unit();
    const float length = std::max(std::abs(to.x - from.x), std::abs(to.y - from.y));
    const ImVec2 way{(to.x - from.x) / std::max(length, 1.0f),
                     (to.y - from.y) / std::max(length, 1.0f)};
    for (float at = 0.0f; at < length; at += 2.0f * dash) {
        const float end = std::min(at + dash, length);
        c.list().AddLine({from.x + way.x * at, from.y + way.y * at},
                         {from.x + way.x * end, from.y + way.y * end}, packed(colour),
                         1.6f * c.unit());
    }
}

void draw_grid(Canvas& c, const Plot& plot, const Box& gutter)
{
    const ChartBlock& chart = plot.chart;
    const double step = step_for(chart.last_value - chart.first_value,
                                 chart.size == ChartBlock::Size::small ? 3 : 4);
    const float small = c.line_height(TextRole::small);
    for (double v = std::ceil(chart.first_value / step - 1e-9) * step; v <= chart.last_value + 1e-9;
         v += step) {
        const float y = plot.y_of(v);
        c.rule(plot.box.x, plot.box.right(), y);
        std::string name = fmt::format("{:g}", std::abs(v) < 1e-9 ? 0.0 : v);
        // The unit once, at the topmost.
        if (v + step > chart.last_value + 1e-9 && !chart.unit.empty()) name += ' ' + chart.unit;
        c.write_line({gutter.x, y - small / 2, gutter.w - 0.4f * small, small}, name,
                     {TextRole::small, c.palette().quiet_ink, Align::right});
    }
}

void draw_day_names(Canvas& c, const Plot& plot, Box line)
{
    float free_from = plot.box.x - c.em();
    for (const auto& [day, name] : plot.chart.day_names) {
        const float width = c.size_of(TextRole::small, name).x + 1.0f;
        const float x = std::clamp(plot.x_of(day), plot.box.x, plot.box.right() - width);
        if (x < free_from) continue;
        c.write_line({x, line.y, width, line.h}, name, {TextRole::small, c.palette().quiet_ink});
        free_from = x + width + 0.6f * c.em();
    }
}

void draw_goal(Canvas& c, const Plot& plot)
{
    if (!plot.chart.goal) return;
    const float y = plot.y_of(*plot.chart.goal);
    dashes(c, {plot.box.x, y}, {plot.box.right(), y}, c.palette().accent);
    const float small = c.line_height(TextRole::small);
    const float width = c.size_of(TextRole::small, plot.chart.goal_name).x + 2.0f;
    const float above = y - small - 1.0f * c.unit();
    // At the left: holds grow towards a goal, so its right end is where the points are.
    const Box name{plot.box.x, std::max(above, plot.box.y - small), width, small};
    c.fill({name.x, name.y, name.w + 2, name.h - 1}, c.palette().paper);
    c.write_line(name, plot.chart.goal_name, {TextRole::small, c.palette().accent});
}

void draw_point(const Canvas& c, ImVec2 at, ChartBlock::Point::Mark mark, float radius)
{
    using Mark = ChartBlock::Point::Mark;
    const Palette& p = c.palette();
    const Colour faint = blend(p.accent, p.paper, 0.35);
    switch (mark) {
    case Mark::filled:
        c.list().AddCircleFilled(at, radius, packed(faint), 16);
        return;
    case Mark::open:
        c.list().AddCircle(at, radius, packed(faint), 16, 1.4f * c.unit());
        return;
    case Mark::cross:
        c.list().AddLine({at.x - radius, at.y - radius}, {at.x + radius, at.y + radius},
                         packed(faint), 1.6f * c.unit());
        c.list().AddLine({at.x - radius, at.y + radius}, {at.x + radius, at.y - radius},
                         packed(faint), 1.6f * c.unit());
        return;
    }
}

void draw_points(const Canvas& c, const Plot& plot)
{
    const std::size_t count = plot.chart.points.size();
    const float radius = (count > 400 ? 1.5f : count > 100 ? 2.3f : 3.4f) * c.unit();
    for (const auto& point : plot.chart.points) {
        draw_point(c, {plot.x_of(point.day), plot.y_of(point.value)}, point.mark, radius);
    }
}

void draw_medians(const Canvas& c, const Plot& plot)
{
    std::vector<ImVec2> line;
    for (const auto& p : plot.chart.line) line.push_back({plot.x_of(p.day), plot.y_of(p.value)});
    const auto colour = packed(c.palette().ink);
    c.list().AddPolyline(line.data(), static_cast<int>(line.size()), colour, 0, 2.6f * c.unit());
    for (const ImVec2& at : line) c.list().AddCircleFilled(at, 3.6f * c.unit(), colour, 16);
}

}  // namespace

float draw_chart_block(Canvas& c, const ChartBlock& b, Box box)
{
    const float top = box.y;
    const Palette& p = c.palette();
    const bool is_small = b.size == ChartBlock::Size::small;
    box.cut_top(c.write(box, b.title, {TextRole::strong, p.ink}));
    if (!b.summary.empty()) {
        box.cut_top(c.write(box, b.summary, {TextRole::body, p.quiet_ink}));
    }
    box.cut_top(0.8f * c.em());
    Box picture = box.cut_top((is_small ? 6.5f : 10.0f) * c.em());
    const Box names = box.cut_top(1.2f * c.line_height(TextRole::small));
    // Nothing of a picture half in sight would be left out, so dry it takes its room alone.
    const float used = box.y - top;
    if (c.is_dry()) return used;
    const Box gutter = picture.cut_left(3.0f * c.em());
    picture.cut_right(0.3f * c.em());
    const Plot plot{picture, b};
    draw_grid(c, plot, gutter);
    for (const double day : b.breaks_at) {
        const float x = plot.x_of(day);
        dashes(c, {x, picture.y}, {x, picture.bottom()}, p.middle);
    }
    draw_points(c, plot);
    draw_medians(c, plot);
    draw_goal(c, plot);
    draw_day_names(c, plot, names);
    if (b.points.empty() && b.line.empty()) {
        c.write_line(picture, "nothing yet", {TextRole::body, p.quiet_ink, Align::centre});
    }
    return used;
}

}  // namespace holdwell
