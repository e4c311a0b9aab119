#pragma once
// What the record says in words and in tables: figures and counts, no interpretation.

#include <string>
#include <vector>

#include "app/pages/page.h"
#include "app/practice/progress.h"

namespace holdwell {

// "86 of 112 practices asked for (77 %): 80 complete, 6 in part. ..."
std::string adherence_said(const Adherence& adherence);
// One line for each hold: its name and whether there is a change, with the reason.
std::string changes_in_words(const Progress& progress);
// How a change is found; stands below changes_in_words().
extern const char* const kHowChangeIsFound;
// How points are marked; stands below the pictures.
extern const char* const kHowPointsAreMarked;
// What the columns of the tables of holds and of glides mean.
extern const char* const kHowHoldsAreCounted;
extern const char* const kHowGlidesAreCounted;
// "/s/ 19.4 s, /z/ 16.1 s, ratio 1.20 on 3 March 2026": one line for each session, latest first.
std::string baselines_said(const Progress& progress);
// "The microphone, its rate or its gain changed on 3 March 2026: ..."; empty without a change.
std::string set_ups_said(const Progress& progress);

// Latest first, from the `skipped`-th on, at most `most` rows.
struct Rows {
    std::size_t skipped{0};
    std::size_t most{0};
};
TableBlock trials_table(const TimedSeries& series, Rows rows);
TableBlock weeks_table(const TimedSeries& series);
TableBlock glides_table(const GlideSeries& series, Rows rows);
TableBlock glide_weeks_table(const GlideSeries& series);
TableBlock onsets_table(const Progress& progress);
TableBlock ratings_table(const Progress& progress, Rows rows);
TableBlock adherence_table(const Progress& progress);
// Published figures with their sources; kNormCaution (norms.h) stands beside them.
TableBlock norms_table();

}  // namespace holdwell
