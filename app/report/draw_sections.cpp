#include <algorithm>

#include <fmt/format.h>

#include "app/report/draw_report.h"

namespace holdwell {

namespace {

constexpr PaperSetting kParagraph{.style = PaperText::body, .wrap = PaperWrap::paragraph};
constexpr PaperSetting kQuietParagraph{
    .style = PaperText::small_print, .wrap = PaperWrap::paragraph, .ink = Ink::quiet};
constexpr double kInABox = 7.0;  // from its edge
constexpr double kBetweenPictures = 14.0;
constexpr std::size_t kPicturesInARow = 3;

PaperBox below(const PaperBox& box, double used)
{
    return {box.x, box.y + used, box.width, std::max(box.height - used, 0.0)};
}

// One of a row of three.
PaperBox picture_box(const PaperBox& row, std::size_t nth)
{
    const double width = (row.width - 2.0 * kBetweenPictures) / 3.0;
    return {row.x + static_cast<double>(nth) * (width + kBetweenPictures), row.y, width,
            row.height};
}

double paragraphs_height(ReportPaper& paper, const std::vector<std::string>& paragraphs,
                         const PaperSetting& setting, double width)
{
    double height = 0.0;
    for (const std::string& paragraph : paragraphs)
        height += paper.height_of(paragraph, setting, width) + 2.0;
    return height;
}

void draw_paragraphs(ReportPaper& paper, const std::vector<std::string>& paragraphs,
                     const PaperSetting& setting, PaperBox box)
{
    for (const std::string& paragraph : paragraphs)
        box.y += paper.text(paragraph, setting, box) + 2.0;
}

// A heading, and paragraphs below it.
ReportSection worded(const std::string& heading, const std::vector<std::string>& paragraphs,
                     const PaperSetting& setting)
{
    if (paragraphs.empty()) return {};
    const std::vector<std::string>* of = &paragraphs;
    return {[of, setting](ReportPaper& paper, double width) {
                return kHeadingHeight + paragraphs_height(paper, *of, setting, width);
            },
            [of, setting, heading](ReportPaper& paper, const PaperBox& box) {
                const double used = draw_heading(paper, heading, box);
                draw_paragraphs(paper, *of, setting, below(box, used));
            }};
}

constexpr PaperSetting kWho{.style = PaperText::heading, .wrap = PaperWrap::paragraph};
constexpr double kTitleHeight = 26.0;
constexpr double kPeriodHeight = 26.0;  // with the line below it

double head_height(ReportPaper& paper, const ReportView& view, double width)
{
    return kTitleHeight + paper.height_of(view.who, kWho, width) + kPeriodHeight +
           paragraphs_height(paper, view.plan, kParagraph, width);
}

void draw_head(ReportPaper& paper, const ReportView& view, const PaperBox& box)
{
    const PaperBox left{box.x, box.y, 0.62 * box.width, 22.0};
    paper.text(view.title, {.style = PaperText::title}, left);
    const PaperBox right{left.right(), box.y + 8.0, 0.38 * box.width, 12.0};
    paper.text("made on " + view.made_on, {.align = PaperAlign::right, .ink = Ink::quiet}, right);
    double used = kTitleHeight;
    used += paper.text(view.who, kWho, below(box, used)) + 2.0;
    paper.text(view.period, {}, below(box, used));
    used += kPeriodHeight - 8.0;
    paper.line({box.x, box.y + used - 2.0}, {box.right(), box.y + used - 2.0},
               {.ink = Ink::accent, .width = 1.2});
    draw_paragraphs(paper, view.plan, kParagraph, below(box, used + 4.0));
}

void draw_row(ReportPaper& paper, const ReportView& view, const std::vector<ReportPlot>& plots,
              const PaperBox& row)
{
    for (std::size_t i = 0; i < plots.size() && i < kPicturesInARow; ++i)
        draw_plot(paper, plots[i], view.axis, picture_box(row, i));
}

}  // namespace

double draw_heading(ReportPaper& paper, const std::string& heading, const PaperBox& box)
{
    paper.text(heading, {.style = PaperText::heading, .ink = Ink::accent}, box);
    return kHeadingHeight;
}

ReportSection head_section(const ReportView& view)
{
    const ReportView* of = &view;
    return {[of](ReportPaper& paper, double width) { return head_height(paper, *of, width); },
            [of](ReportPaper& paper, const PaperBox& box) { draw_head(paper, *of, box); }};
}

ReportSection sentence_section(const std::string& sentence)
{
    const std::string* of = &sentence;
    return {[of](ReportPaper& paper, double width) {
                return 24.0 + paper.height_of(*of, kParagraph, width);
            },
            [of](ReportPaper& paper, const PaperBox& box) {
                paper.text(*of, {.style = PaperText::heading}, below(box, 12.0));
            }};
}

ReportSection adherence_section(const ReportView& view)
{
    const ReportAdherence* of = &view.adherence;
    return {[of](ReportPaper& paper, double width) {
                return kHeadingHeight + adherence_height(paper, *of, width);
            },
            [of](ReportPaper& paper, const PaperBox& box) {
                const double used = draw_heading(paper, "Practice, done of asked", box);
                draw_adherence(paper, *of, below(box, used));
            }};
}

std::vector<ReportSection> hold_sections(const ReportView& view, double picture_height)
{
    std::vector<ReportSection> rows;
    const ReportView* of = &view;
    for (std::size_t first = 0; first < view.holds.size(); first += kPicturesInARow) {
        const std::size_t end = std::min(first + kPicturesInARow, view.holds.size());
        const bool is_first = first == 0;
        const bool is_last = end == view.holds.size() && !view.holds_not_shown.empty();
        const double over = is_first ? kHeadingHeight : 0.0;
        const double under = is_last ? 10.0 : 0.0;
        rows.push_back(
            {[=](ReportPaper&, double) { return over + picture_height + under; },
             [=](ReportPaper& paper, const PaperBox& box) {
                 if (is_first) draw_heading(paper, "Hold time in seconds, by week", box);
                 const PaperBox row{box.x, box.y + over, box.width, picture_height};
                 for (std::size_t i = first; i < end; ++i)
                     draw_plot(paper, of->holds[i], of->axis, picture_box(row, i - first));
                 if (is_last)
                     paper.text(of->holds_not_shown, {.style = PaperText::label, .ink = Ink::quiet},
                                below(box, over + picture_height));
             }});
    }
    return rows;
}

ReportSection glide_section(const ReportView& view, double picture_height)
{
    if (view.glides.empty()) return {};
    const ReportView* of = &view;
    return {[=](ReportPaper&, double) { return kHeadingHeight + picture_height; },
            [=](ReportPaper& paper, const PaperBox& box) {
                const double used = draw_heading(paper, "Glides, by week", box);
                draw_row(paper, *of, of->glides, below(box, used));
            }};
}

ReportSection onsets_and_ratings_section(const ReportView& view, double picture_height)
{
    if (view.onsets.bars.empty() && view.ratings.empty()) return {};
    const ReportView* of = &view;
    return {[=](ReportPaper&, double) { return kHeadingHeight + picture_height; },
            [=](ReportPaper& paper, const PaperBox& box) {
                const double used =
                    draw_heading(paper, "Onsets of holds, and self-ratings, by week", box);
                const PaperBox row = below(box, used);
                draw_mix(paper, of->onsets, picture_box(row, 0));
                for (std::size_t i = 0; i < of->ratings.size() && i < 2; ++i)
                    draw_plot(paper, of->ratings[i], of->axis, picture_box(row, i + 1));
            }};
}

ReportSection table_section(const ReportTable& table, const std::string& heading)
{
    if (table.rows.empty()) return {};
    const ReportTable* of = &table;
    const double over = heading.empty() ? 0.0 : kHeadingHeight;
    return {[=](ReportPaper&, double) { return over + table_height(*of); },
            [=](ReportPaper& paper, const PaperBox& box) {
                if (!heading.empty()) draw_heading(paper, heading, box);
                draw_table(paper, *of, below(box, over));
            }};
}

ReportSection baseline_section(const ReportView& view)
{
    if (view.baselines.rows.empty()) return {};
    const ReportView* of = &view;
    return {[of](ReportPaper& paper, double width) {
                return kHeadingHeight + table_height(of->baselines) + 3.0 +
                       paper.height_of(of->baseline_caution, kQuietParagraph, width);
            },
            [of](ReportPaper& paper, const PaperBox& box) {
                double used = draw_heading(paper, "/s/ and /z/, timed in session", box);
                draw_table(paper, of->baselines, below(box, used));
                used += table_height(of->baselines) + 3.0;
                paper.text(of->baseline_caution, kQuietParagraph, below(box, used));
            }};
}

ReportSection goal_section(const ReportView& view)
{
    return worded("Goal", view.measurable, kParagraph);
}

ReportSection chart_note_section(const ReportView& view)
{
    const std::string* of = &view.chart_note;
    return {[of](ReportPaper& paper, double width) {
                return kHeadingHeight + 2.0 * kInABox +
                       paper.height_of(*of, kParagraph, width - 2.0 * kInABox);
            },
            [of](ReportPaper& paper, const PaperBox& box) {
                const double used = draw_heading(paper, "For the chart note", box);
                const PaperBox around = below(box, used);
                paper.frame(around, {.ink = Ink::pale, .width = 0.8});
                paper.text(
                    *of, kParagraph,
                    {around.x + kInABox, around.y + kInABox, around.width - 2.0 * kInABox, 0.0});
            }};
}

ReportSection small_print_section(const ReportView& view)
{
    return worded("Methods and cautions", view.small_print, kQuietParagraph);
}

}  // namespace holdwell
