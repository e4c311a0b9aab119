#include "app/practice/progress.h"

#include <algorithm>
#include <string_view>
#include <tuple>
#include <unordered_set>

#include "app/practice/day_text.h"
#include "app/practice/progress_parts.h"

namespace holdwell {

namespace {

// The same practice twice: the fuller one is read, whichever stands first.
bool stands_before(const Practice* a, const Practice* b)
{
    return std::tuple{a->begun, a->id, b->trials.size()} <
           std::tuple{b->begun, b->id, a->trials.size()};
}

// They point into the ids of the file that is read.
using IdsSeen = std::unordered_set<std::string_view>;

std::vector<const Trial*> trials_once(const Practice& practice, IdsSeen& seen)
{
    std::vector<const Trial*> trials;
    for (const Trial& trial : practice.trials) {
        if (trial.id.text.empty() || seen.insert(trial.id.text).second) trials.push_back(&trial);
    }
    std::ranges::stable_sort(trials, {}, [](const Trial* t) { return std::tie(t->number, t->id); });
    return trials;
}

std::optional<Date> first_practice_at_home(const std::vector<Sitting>& sittings)
{
    const auto found = std::ranges::find_if(sittings, [](const Sitting& sitting) {
        return was_practised(facts_of(sitting)) &&
               sitting.practice->kind != PracticeKind::in_session;
    });
    return found == sittings.end() ? std::nullopt : std::optional{found->practice->begun.date};
}

// Weeks are counted from it.
std::optional<Date> opening_day(const std::vector<Sitting>& sittings)
{
    if (const auto at_home = first_practice_at_home(sittings)) return at_home;
    const auto found = std::ranges::find_if(
        sittings, [](const Sitting& sitting) { return was_practised(facts_of(sitting)); });
    return found == sittings.end() ? std::nullopt : std::optional{found->practice->begun.date};
}

std::vector<Sitting> within(const std::vector<Sitting>& sittings, const Period& period)
{
    std::vector<Sitting> found;
    for (const Sitting& sitting : sittings) {
        const Date day = sitting.practice->begun.date;
        if (period.from <= day && day <= period.to) found.push_back(sitting);
    }
    return found;
}

void count_trials(const RecordView& record, Progress& progress)
{
    for (const Sitting& sitting : record.sittings) {
        progress.practices += was_practised(facts_of(sitting)) ? 1 : 0;
        progress.trials += static_cast<int>(sitting.trials.size());
        // What was noted on paper was not measured here, so that no measurement failed.
        if (sitting.practice->kind == PracticeKind::entered_by_hand) continue;
        for (const Trial* trial : sitting.trials)
            progress.trials_not_counted += mark_of(*trial) == TrialMark::none ? 0 : 1;
    }
}

void say_set_up_changes(Progress& progress)
{
    for (TimedSeries& series : progress.timed) {
        if (!series.change.first || !series.change.last) continue;
        const auto between = [&](const SetUpChange& change) {
            return series.change.first->begins < change.day &&
                   change.day < day_after(series.change.last->begins, std::chrono::days{7});
        };
        if (std::ranges::any_of(progress.set_ups, between))
            series.change.reason += " The set-up changed between them.";
    }
}

}  // namespace

Period whole_record(const ClientFile& file, Date today)
{
    const std::optional<Date> first = first_day_of(file);
    const Date from = first ? std::min(*first, today) : day_after(today, std::chrono::days{-6});
    return {from, today, today};
}

int week_of(Date day, Date day_one)
{
    const auto days = days_between(day_one, day).count();
    return static_cast<int>(days >= 0 ? days / 7 : (days - 6) / 7) + 1;
}

Date first_day_of_week(int week, Date day_one)
{
    return day_after(day_one, std::chrono::days{7 * (week - 1)});
}

std::vector<Sitting> sittings_of(const ClientFile& file)
{
    std::vector<const Practice*> practices;
    for (const Practice& practice : file.practices) practices.push_back(&practice);
    std::ranges::stable_sort(practices, stands_before);
    std::vector<Sitting> sittings;
    sittings.reserve(practices.size());
    IdsSeen practices_seen;
    IdsSeen trials_seen;
    std::size_t trials = 0;
    for (const Practice* practice : practices) trials += practice->trials.size();
    trials_seen.reserve(trials);
    for (const Practice* practice : practices) {
        if (!practice->id.text.empty() && !practices_seen.insert(practice->id.text).second)
            continue;
        sittings.push_back({practice, trials_once(*practice, trials_seen)});
    }
    return sittings;
}

PracticeFacts facts_of(const Sitting& sitting)
{
    return {.kind = sitting.practice->kind,
            .completion = sitting.practice->completion,
            .trials = static_cast<int>(sitting.trials.size())};
}

TrialSource source_of(PracticeKind kind)
{
    switch (kind) {
    case PracticeKind::at_home:
        return TrialSource::at_home;
    case PracticeKind::in_session:
        return TrialSource::in_session;
    case PracticeKind::entered_by_hand:
        return TrialSource::by_hand;
    }
    return TrialSource::by_hand;
}

double part_of_day(ClockTime time)
{
    return static_cast<double>(time.since_midnight.count()) / (24.0 * 60.0);
}

double median_value(std::vector<double> values)
{
    if (values.empty()) return 0.0;
    std::ranges::sort(values);
    const std::size_t middle = values.size() / 2;
    return values.size() % 2 == 1 ? values[middle] : 0.5 * (values[middle - 1] + values[middle]);
}

Progress progress_of(const ClientFile& file, const Period& period)
{
    const std::vector<Sitting> whole = sittings_of(file);
    Progress progress;
    progress.period = period;
    progress.day_one = opening_day(whole);
    const RecordView record{&file, period, progress.day_one.value_or(period.from),
                            first_practice_at_home(whole), within(whole, period)};
    count_trials(record, progress);
    progress.days = adherence_by_day(record);
    progress.weeks = adherence_by_week(progress.days, record.day_one);
    progress.adherence = sum_of(progress.days);
    progress.timed = timed_series(record);
    progress.glides = glide_series(record);
    progress.onsets = onset_weeks(record);
    progress.fry = fry_weeks(record);
    progress.baselines = baselines_of(record);
    progress.ratings = ratings_of(record);
    progress.set_ups = set_up_changes(whole, period);
    say_set_up_changes(progress);
    return progress;
}

}  // namespace holdwell
