#pragma once
// The pictures of a record, from its Progress: every trial as a point over the days of the period,
// with the medians of its weeks.
//
// A filled point counts; an open one was done in session; a cross was entered by hand, or is in no
// mean because samples were lost or it is in doubt.

#include <string>
#include <utility>
#include <vector>

#include "app/pages/page.h"
#include "app/practice/progress.h"

namespace holdwell {

ChartBlock hold_chart(const TimedSeries& series, const Progress& progress);
// Longest /s/ (filled) and /z/ (open) of each session's baseline.
ChartBlock baseline_chart(const Progress& progress);
ChartBlock range_chart(const GlideSeries& series, const Progress& progress);
ChartBlock breaks_chart(const GlideSeries& series, const Progress& progress);
ChartBlock fry_chart(const Progress& progress);  // percent of each week's trials
enum class RatingOf { effort, discomfort };
ChartBlock rating_chart(RatingOf of, const Progress& progress);

// The first week and the last one with holds; one block when there is but one.
std::vector<SharesBlock> onset_shares(const Progress& progress);
// At most the last `weeks` weeks, day by day, in whole rows of seven.
DaysBlock adherence_days(const Progress& progress, int weeks);

// Days with a name below a chart: about five of them.
std::vector<std::pair<double, std::string>> day_names_of(const Period& period);
// The smallest of 5, 10, 20, 30, 40 ... that is at or above it.
double axis_end_for(double highest);

}  // namespace holdwell
