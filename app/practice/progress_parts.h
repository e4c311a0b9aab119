#pragma once
// The steps of progress_of(), each for one kind of reading. What they share: the record in order,
// each practice and trial once.

#include <vector>

#include "app/practice/progress.h"

namespace holdwell {

// A practice with its trials in order, each once; they point into the file it was made from.
struct Sitting {
    const Practice* practice{nullptr};
    std::vector<const Trial*> trials{};
};
// By moment begun, each practice once; whole record.
std::vector<Sitting> sittings_of(const ClientFile& file);

// What every step reads.
struct RecordView {
    const ClientFile* file{nullptr};
    Period period{};
    Date day_one{};                    // opens week 1
    std::optional<Date> asked_from{};  // first practice at home
    std::vector<Sitting> sittings{};   // of the period
};

TrialSource source_of(PracticeKind kind);
double part_of_day(ClockTime time);
PracticeFacts facts_of(const Sitting& sitting);
// Without the copy that plan_in_force() makes; null without plans.
const Plan* find_plan_in_force(const ClientFile& file, Date day);
// What the plan in force asks of a day at home; its practices a week spread evenly over the week.
int asked_on(const RecordView& record, Date day);

std::vector<AdherenceDay> adherence_by_day(const RecordView& record);
std::vector<AdherenceDay> adherence_by_week(const std::vector<AdherenceDay>& days, Date day_one);
Adherence sum_of(const std::vector<AdherenceDay>& days);

std::vector<TimedSeries> timed_series(const RecordView& record);
// The rule of what may be called a change.
Change change_between(const std::vector<TimedWeek>& weeks);

std::vector<GlideSeries> glide_series(const RecordView& record);
std::vector<OnsetWeek> onset_weeks(const RecordView& record);
std::vector<FryWeek> fry_weeks(const RecordView& record);
std::vector<BaselineReading> baselines_of(const RecordView& record);
std::vector<RatingPoint> ratings_of(const RecordView& record);
// Of the whole record; those within the period.
std::vector<SetUpChange> set_up_changes(const std::vector<Sitting>& whole, const Period& period);

// Middle value; mean of the two middle ones of an even number. Not of none.
double median_value(std::vector<double> values);

}  // namespace holdwell
