#pragma once
// What a report says and shows, decided without a page: words, figures, pictures as numbers. How it
// is laid out and drawn is in report_pages.h.
//
// One or two pages for the chart. A record longer than half a year shows weeks instead of trials;
// more notes than there is room for are named as not shown.

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/practice/day_text.h"
#include "app/practice/goal_builder.h"
#include "app/practice/progress.h"

namespace holdwell {

struct ReportOptions {
    Date made_on{};
    DayForm days{};
    std::string name{};  // typed by the therapist; empty: the code alone
    std::optional<MeasurableGoal> measurable{};
};

// ---- pictures ------------------------------------------------------------------------------

// The time axis that all pictures of a report share: days from its left edge.
struct ReportAxis {
    Date begins{};
    double days{7.0};
    std::vector<std::pair<double, std::string>> ticks{};  // beginnings of weeks
    std::vector<double> breaks_at{};                      // the set-up changed
};

struct ReportPlot {
    enum class Shape { filled, open, cross };
    struct Dot {
        double day{0.0};
        double value{0.0};
        Shape shape{Shape::filled};
    };
    struct Reach {  // of a week, in a long record: lowest to highest
        double day{0.0};
        double lowest{0.0};
        double highest{0.0};
    };
    struct Trend {
        enum class Form { solid, dashed } form{Form::solid};
        std::vector<std::pair<double, double>> points{};  // day, value
        std::string name{};                               // beside its end; may be empty
    };
    std::string title{};    // "F4, warm-up hold"
    std::string beside{};   // "longest 18.2 s"
    std::string caption{};  // below: what the picture says in figures
    std::vector<Dot> dots{};
    std::vector<Reach> reaches{};
    std::vector<Trend> trends{};
    std::optional<double> goal{};
    std::string goal_name{};
    double highest{10.0};  // of the upright axis, which begins at 0
    double step{5.0};      // between its ticks
};

// One practice asked or done.
enum class ReportSlot { complete, partly, by_hand, not_today, not_done };
struct ReportWeek {
    std::string name{};  // "1"
    std::string from{};  // "2 Mar"
    int done{0};
    int asked{0};
    std::vector<std::vector<ReportSlot>> days{};  // seven; empty ones outside the period
};
// Week by week; in a long record each bar stands for several.
struct ReportAdherence {
    std::string summary{};
    std::vector<ReportWeek> weeks{};  // up to half a year, day by day up to 16 weeks
    enum class Form { squares, bars } form{Form::squares};
};

struct ReportMix {  // of onsets, in each of the weeks; bars of at most kMostBars
    struct Bar {
        std::string name{};
        int easy{0}, hard{0}, breathy{0}, unsure{0};
        int all() const { return easy + hard + breathy + unsure; }
    };
    std::string caption{};
    std::vector<Bar> bars{};
};
inline constexpr int kMostBars = 26;

struct ReportTable {
    std::vector<std::string> head{};
    std::vector<std::vector<std::string>> rows{};
};

// ---- the whole -----------------------------------------------------------------------------

struct ReportView {
    std::string title{"Voice practice report"};
    std::string who{};                // "C-104", or "name (C-104)"
    std::string period{};             // "2 March 2026 to 26 April 2026 (56 days)"
    std::string made_on{};            // "26 April 2026"
    std::vector<std::string> plan{};  // a line each
    std::string nothing{};            // said instead of pictures when there is no practice
    ReportAxis axis{};
    ReportAdherence adherence{};
    std::vector<ReportPlot> holds{};
    std::string holds_not_shown{};
    ReportTable hold_table{};
    std::vector<ReportPlot> glides{};
    ReportMix onsets{};
    std::vector<ReportPlot> ratings{};
    ReportTable baselines{};
    std::string baseline_caution{};
    std::string chart_note{};
    std::vector<std::string> measurable{};  // goals: the sentence, then how the record stands to it
    std::vector<std::string> small_print{};
    std::optional<Date> made{};  // the file's own date; absent where days are numbered
};

ReportView report_view(const ClientFile& file, const Period& period, const ReportOptions& options);

}  // namespace holdwell
