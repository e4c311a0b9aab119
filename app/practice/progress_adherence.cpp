#include <algorithm>
#include <map>
#include <set>

#include "app/practice/progress_parts.h"

namespace holdwell {

namespace {

using std::chrono::days;

// First day on which any revision of this plan was in force.
Date first_day_of_plan(const ClientFile& file, const Plan& plan)
{
    Date first = plan.written;
    for (const Plan& other : file.plans) {
        if (other.id == plan.id) first = std::min(first, other.written);
    }
    return first;
}

// A taper has no end of its own: the therapist ends it.
bool has_ended(const RecordView& record, const Plan& plan, Date day)
{
    if (plan.taper_step > 0) return false;
    const Date begun = std::max(record.day_one, first_day_of_plan(*record.file, plan));
    return day >= day_after(begun, days{7 * plan.weeks});
}

void count(const Sitting& sitting, Adherence& day)
{
    const Practice& practice = *sitting.practice;
    if (practice.kind == PracticeKind::in_session) return;
    const bool by_hand = practice.kind == PracticeKind::entered_by_hand;
    if (practice.completion == Completion::not_today) ++day.not_today;
    if (practice.completion == Completion::stopped_for_discomfort) ++day.stopped_for_discomfort;
    if (!is_done_at_home(facts_of(sitting))) return;
    if (by_hand) ++day.entered_by_hand;
    if (practice.completion == Completion::complete) {
        ++day.complete;
    } else {
        ++day.partly;
    }
}

Adherence operator+(const Adherence& a, const Adherence& b)
{
    return {.asked = a.asked + b.asked,
            .complete = a.complete + b.complete,
            .partly = a.partly + b.partly,
            .not_today = a.not_today + b.not_today,
            .stopped_for_discomfort = a.stopped_for_discomfort + b.stopped_for_discomfort,
            .entered_by_hand = a.entered_by_hand + b.entered_by_hand};
}

}  // namespace

const Plan* find_plan_in_force(const ClientFile& file, Date day)
{
    // In the order in which they came into force: a plan that was handed over may have been written
    // before the one that it takes over from.
    const Plan* found = nullptr;
    for (const Plan& plan : file.plans) {
        if (plan.written <= day) found = &plan;
    }
    if (found != nullptr) return found;
    return file.plans.empty() ? nullptr : &file.plans.front();
}

std::optional<Plan> plan_in_force(const ClientFile& file, Date day)
{
    const Plan* plan = find_plan_in_force(file, day);
    return plan ? std::optional{*plan} : std::nullopt;
}

int asked_on(const RecordView& record, Date day)
{
    const Plan* plan = find_plan_in_force(*record.file, day);
    if (!plan) return 0;
    if (!record.asked_from || day < *record.asked_from || has_ended(record, *plan, day)) return 0;
    const int a_week = practices_a_week_now(*plan);
    const auto nth = static_cast<int>(days_between(record.day_one, day).count() % 7);
    // The parts of a week so spread add up to it exactly.
    return (nth + 1) * a_week / 7 - nth * a_week / 7;
}

std::vector<AdherenceDay> adherence_by_day(const RecordView& record)
{
    std::map<Date, Adherence> done;
    for (const Sitting& sitting : record.sittings)
        count(sitting, done[sitting.practice->begun.date]);
    std::vector<AdherenceDay> found;
    for (Date day = record.period.from; day <= record.period.to; day = day_after(day, days{1})) {
        AdherenceDay reading{day, done[day]};
        const int asked = asked_on(record, day);
        reading.of.asked = day < record.period.today ? asked : std::min(asked, reading.of.done());
        found.push_back(reading);
    }
    return found;
}

std::vector<AdherenceDay> adherence_by_week(const std::vector<AdherenceDay>& days_read,
                                            Date day_one)
{
    std::map<int, Adherence> weeks;
    for (const AdherenceDay& day : days_read) {
        Adherence& week = weeks[week_of(day.day, day_one)];
        week = week + day.of;
    }
    std::vector<AdherenceDay> found;
    for (const auto& [week, sum] : weeks) {
        // Before the first week there is a session at most.
        if (week >= 1 || sum != Adherence{})
            found.push_back({first_day_of_week(week, day_one), sum});
    }
    return found;
}

Adherence sum_of(const std::vector<AdherenceDay>& days_read)
{
    Adherence sum;
    for (const AdherenceDay& day : days_read) sum = sum + day.of;
    return sum;
}

}  // namespace holdwell
