#pragma once
// The sections of a report, from top to bottom: each knows its height for a width, and draws
// itself. A section with nothing to show has no draw function.

#include <functional>
#include <string>
#include <vector>

#include "app/report/paper.h"
#include "app/report/report_view.h"

namespace holdwell {

// They point into the view they were made from.
struct ReportSection {
    std::function<double(ReportPaper&, double width)> height{};
    std::function<void(ReportPaper&, const PaperBox&)> draw{};
};

ReportSection head_section(const ReportView& view);
ReportSection sentence_section(const std::string& sentence);
ReportSection adherence_section(const ReportView& view);
// A row each; the heading stands over the first.
std::vector<ReportSection> hold_sections(const ReportView& view, double picture_height);
ReportSection glide_section(const ReportView& view, double picture_height);
ReportSection onsets_and_ratings_section(const ReportView& view, double picture_height);
ReportSection table_section(const ReportTable& table, const std::string& heading);
ReportSection baseline_section(const ReportView& view);
ReportSection goal_section(const ReportView& view);
ReportSection chart_note_section(const ReportView& view);
ReportSection small_print_section(const ReportView& view);

// Heading over a section; gives the height used.
double draw_heading(ReportPaper& paper, const std::string& heading, const PaperBox& box);
inline constexpr double kHeadingHeight = 16.0;

void draw_plot(ReportPaper& paper, const ReportPlot& plot, const ReportAxis& axis,
               const PaperBox& box);
void draw_mix(ReportPaper& paper, const ReportMix& mix, const PaperBox& box);
double adherence_height(ReportPaper& paper, const ReportAdherence& adherence, double width);
void draw_adherence(ReportPaper& paper, const ReportAdherence& adherence, const PaperBox& box);
double table_height(const ReportTable& table);
void draw_table(ReportPaper& paper, const ReportTable& table, const PaperBox& box);

}  // namespace holdwell
