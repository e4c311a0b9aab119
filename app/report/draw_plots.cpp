#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "app/report/draw_report.h"

namespace holdwell {

namespace {

constexpr PaperSetting kLabel{.style = PaperText::label, .ink = Ink::quiet};
constexpr PaperSetting kLabelRight{
    .style = PaperText::label, .align = PaperAlign::right, .ink = Ink::quiet};
constexpr double kOver = 12.0;    // title
constexpr double kUnder = 20.0;   // names of weeks, caption
constexpr double kBeside = 15.0;  // names of values

// Where values stand on the page.
struct Scale {
    PaperBox field;
    double days;
    double highest;
    double x(double day) const { return field.x + field.width * std::clamp(day / days, 0.0, 1.0); }
    double y(double value) const
    {
        return field.bottom() - field.height * std::clamp(value / highest, 0.0, 1.0);
    }
};

void draw_titles(ReportPaper& paper, const ReportPlot& plot, const PaperBox& box)
{
    const double beside = paper.width_of(plot.beside, kLabel) + 2.0;
    paper.text(plot.title, {.style = PaperText::strong}, {box.x, box.y, box.width - beside, kOver});
    paper.text(plot.beside, kLabelRight, {box.right() - beside, box.y + 1.5, beside, kOver});
    paper.text(plot.caption, kLabel, {box.x, box.bottom() - 9.5, box.width, 9.0});
}

void draw_axes(ReportPaper& paper, const ReportPlot& plot, const Scale& scale)
{
    const PaperBox& field = scale.field;
    for (double value = 0.0; value <= plot.highest + 1e-9; value += plot.step) {
        const double y = scale.y(value);
        paper.line({field.x, y}, {field.right(), y},
                   {.ink = value == 0.0 ? Ink::quiet : Ink::pale, .width = 0.4});
        paper.text(fmt::format("{:.0f}", value), kLabelRight,
                   {field.x - kBeside, y - 4.2, kBeside - 3.0, 8.0});
    }
}

void draw_weeks(ReportPaper& paper, const ReportAxis& axis, const Scale& scale)
{
    for (const auto& [day, name] : axis.ticks) {
        const double x = scale.x(day);
        if (x + paper.width_of(name, kLabel) > scale.field.right()) continue;
        paper.line({x, scale.field.bottom()}, {x, scale.field.bottom() + 2.0},
                   {.ink = Ink::quiet, .width = 0.4});
        paper.text(name, kLabel, {x, scale.field.bottom() + 1.5, 40.0, 8.0});
    }
    for (const double day : axis.breaks_at) {
        const double x = scale.x(day);
        paper.line({x, scale.field.y}, {x, scale.field.bottom()},
                   {.ink = Ink::quiet, .width = 0.7, .form = LineForm::dotted});
    }
}

void draw_goal(ReportPaper& paper, const ReportPlot& plot, const Scale& scale)
{
    if (!plot.goal) return;
    const double y = scale.y(*plot.goal);
    paper.line({scale.field.x, y}, {scale.field.right(), y},
               {.ink = Ink::black, .width = 0.8, .form = LineForm::dashed});
    const PaperSetting setting{.style = PaperText::label};
    const double width = paper.width_of(plot.goal_name, setting) + 2.0;
    const PaperBox box{scale.field.right() - width, y - 9.5, width, 9.0};
    paper.fill(box, Ink::white);
    paper.text(plot.goal_name, setting, {box.x + 1.0, box.y, box.width, box.height});
}

void draw_dots(ReportPaper& paper, const ReportPlot& plot, const Scale& scale)
{
    // Many points are small, so that the line through them is seen.
    const double radius = plot.dots.size() > 150 ? 0.8 : plot.dots.size() > 60 ? 1.0 : 1.4;
    for (const ReportPlot::Reach& reach : plot.reaches) {
        const double x = scale.x(reach.day);
        paper.line({x, scale.y(reach.lowest)}, {x, scale.y(reach.highest)},
                   {.ink = Ink::pale, .width = 1.0});
    }
    for (const ReportPlot::Dot& dot : plot.dots) {
        const PaperPoint at{scale.x(dot.day), scale.y(dot.value)};
        switch (dot.shape) {
        case ReportPlot::Shape::filled:
            paper.disc(at, radius, Ink::quiet);
            break;
        case ReportPlot::Shape::open:
            paper.ring(at, radius + 0.5, {.width = 0.5});
            break;
        case ReportPlot::Shape::cross:
            paper.cross(at, radius + 0.6, {.width = 0.6});
            break;
        }
    }
}

// No line across weeks without a value: nobody knows what was there.
std::vector<std::vector<PaperPoint>> unbroken_parts(const ReportPlot::Trend& trend,
                                                    const Scale& scale)
{
    constexpr double kNextWeek = 10.0;  // days, at most
    std::vector<std::vector<PaperPoint>> parts;
    std::optional<double> last;
    for (const auto& [day, value] : trend.points) {
        if (!last || day - *last > kNextWeek) parts.emplace_back();
        parts.back().push_back({scale.x(day), scale.y(value)});
        last = day;
    }
    return parts;
}

void draw_trends(ReportPaper& paper, const ReportPlot& plot, const Scale& scale)
{
    for (const ReportPlot::Trend& trend : plot.trends) {
        const bool solid = trend.form == ReportPlot::Trend::Form::solid;
        const PaperLine line{
            .ink = Ink::accent, .width = 1.4, .form = solid ? LineForm::solid : LineForm::dashed};
        for (std::vector<PaperPoint> points : unbroken_parts(trend, scale)) {
            // One week alone has no line to the next.
            if (points.size() == 1) points.push_back({points.front().x + 5.0, points.front().y});
            paper.path(points, line);
        }
    }
}

// ---- the mix of onsets ---------------------------------------------------------------------

enum class Kind { easy, hard, breathy, unsure };
constexpr std::array kKinds{Kind::easy, Kind::hard, Kind::breathy, Kind::unsure};

int count_of(const ReportMix::Bar& bar, Kind kind)
{
    switch (kind) {
    case Kind::easy:
        return bar.easy;
    case Kind::hard:
        return bar.hard;
    case Kind::breathy:
        return bar.breathy;
    case Kind::unsure:
        return bar.unsure;
    }
    return 0;
}

const char* name_of(Kind kind)
{
    switch (kind) {
    case Kind::easy:
        return "easy";
    case Kind::hard:
        return "hard";
    case Kind::breathy:
        return "breathy";
    case Kind::unsure:
        return "unsure";
    }
    return "";
}

void draw_part(ReportPaper& paper, Kind kind, const PaperBox& box)
{
    switch (kind) {
    case Kind::easy:
        paper.fill(box, Ink::accent);
        break;
    case Kind::hard:
        paper.hatch(box, {.ink = Ink::black, .width = 0.7});
        break;
    case Kind::breathy:
        paper.fill(box, Ink::pale);
        break;
    case Kind::unsure:
        break;  // white
    }
    paper.frame(box, {.ink = Ink::quiet, .width = 0.4});
}

void draw_bar(ReportPaper& paper, const ReportMix::Bar& bar, const PaperBox& box)
{
    if (bar.all() == 0) return;
    double bottom = box.bottom();
    for (const Kind kind : kKinds) {
        const double height = box.height * count_of(bar, kind) / bar.all();
        if (height <= 0.0) continue;
        bottom -= height;
        draw_part(paper, kind, {box.x, bottom, box.width, height});
    }
}

void draw_legend(ReportPaper& paper, const PaperBox& box)
{
    double x = box.x;
    for (const Kind kind : kKinds) {
        draw_part(paper, kind, {x, box.y + 1.5, 6.0, 6.0});
        const double width = paper.width_of(name_of(kind), kLabel);
        paper.text(name_of(kind), kLabel, {x + 8.0, box.y, width + 2.0, 8.0});
        x += width + 17.0;
    }
}

}  // namespace

void draw_plot(ReportPaper& paper, const ReportPlot& plot, const ReportAxis& axis,
               const PaperBox& box)
{
    const Scale scale{{box.x + kBeside, box.y + kOver + 4.0, box.width - kBeside,
                       box.height - kOver - kUnder - 4.0},
                      axis.days,
                      plot.highest};
    draw_titles(paper, plot, box);
    draw_axes(paper, plot, scale);
    draw_weeks(paper, axis, scale);
    draw_dots(paper, plot, scale);
    draw_trends(paper, plot, scale);
    draw_goal(paper, plot, scale);
}

void draw_mix(ReportPaper& paper, const ReportMix& mix, const PaperBox& box)
{
    if (mix.bars.empty()) return;
    paper.text("Onsets named by the program", {.style = PaperText::strong}, box);
    draw_legend(paper, {box.x, box.y + kOver, box.width, 9.0});
    const PaperBox field{box.x, box.y + kOver + 12.0, box.width,
                         box.height - kOver - kUnder - 12.0};
    const double each = std::min(field.width / static_cast<double>(mix.bars.size()), 24.0);
    const std::size_t named = 1 + mix.bars.size() / 9;
    for (std::size_t i = 0; i < mix.bars.size(); ++i) {
        const double x = field.x + each * static_cast<double>(i);
        draw_bar(paper, mix.bars[i], {x, field.y, 0.8 * each, field.height});
        if (i % named != 0) continue;
        paper.text(mix.bars[i].name, kLabel, {x, field.bottom() + 1.5, 40.0, 8.0});
    }
    paper.text(mix.caption, kLabel, {box.x, box.bottom() - 9.5, box.width, 9.0});
}

}  // namespace holdwell
