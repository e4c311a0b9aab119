#pragma once
// The steps of report_view(), each for one part of the page.

#include "app/report/report_view.h"

namespace holdwell {

// What every step reads.
struct ReportSource {
    const ClientFile* file{nullptr};
    const Progress* progress{nullptr};
    const ReportOptions* options{nullptr};
    const Plan* plan{nullptr};  // in force on the period's last day; null without one
};

// Longer than half a year: weeks instead of trials.
bool is_long(const ReportAxis& axis);
ReportAxis axis_of(const ReportSource& source);
ReportAdherence adherence_of(const ReportSource& source);
std::vector<ReportPlot> hold_plots(const ReportSource& source, const ReportAxis& axis);
ReportTable hold_table(const ReportSource& source);
std::vector<ReportPlot> glide_plots(const ReportSource& source, const ReportAxis& axis);
std::vector<ReportPlot> rating_plots(const ReportSource& source, const ReportAxis& axis);
ReportMix onset_mix(const ReportSource& source);
ReportTable baseline_table(const ReportSource& source);

std::vector<std::string> plan_lines(const ReportSource& source);
std::vector<std::string> small_print(const ReportSource& source);

// The series that are shown, and one sentence on those that are not.
std::vector<const TimedSeries*> shown_series(const Progress& progress);
std::string not_shown(const Progress& progress);
// "C4", "F4, warm-up", "/s/ hold".
std::string series_name(const TimedSeries& series);

}  // namespace holdwell
