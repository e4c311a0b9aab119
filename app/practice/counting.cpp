#include "app/practice/counting.h"

namespace holdwell {

bool was_practised(const PracticeFacts& facts)
{
    if (facts.trials > 0) return true;
    return facts.kind == PracticeKind::entered_by_hand &&
           (facts.completion == Completion::complete || facts.completion == Completion::partial);
}

bool is_done_at_home(const PracticeFacts& facts)
{
    return was_practised(facts) && facts.kind != PracticeKind::in_session &&
           facts.completion != Completion::not_today;
}

bool leaves_no_trace(const Practice& practice)
{
    if (practice.kind == PracticeKind::entered_by_hand || !practice.trials.empty()) return false;
    if (practice.completion == Completion::not_today ||
        practice.completion == Completion::stopped_for_discomfort)
        return false;
    const bool hurt = practice.rating && practice.rating->discomfort > 0;
    return !hurt && !practice.before.any() && practice.remark.empty();
}

bool was_begun_lately(const Practice& practice, const Moment& now)
{
    const std::chrono::minutes since = days_between(practice.begun.date, now.date) +
                                       now.time.since_midnight - practice.begun.time.since_midnight;
    return std::chrono::minutes{0} <= since && since < kLongestGap;
}

bool can_be_gone_on_with(const Practice& practice, const Moment& now)
{
    return practice.kind == PracticeKind::at_home && practice.completion == Completion::under_way &&
           !practice.trials.empty() &&
           (practice.begun.date == now.date || was_begun_lately(practice, now));
}

TrialMark mark_of(const Trial& trial)
{
    if (const auto* hold = std::get_if<HoldMeasures>(&trial.measures)) {
        if (hold->has_gap) return TrialMark::samples_lost;
        if (hold->doubt) return TrialMark::doubtful;
        return hold->hold_time > Seconds{} ? TrialMark::none : TrialMark::not_measured;
    }
    if (const auto* glide = std::get_if<GlideMeasures>(&trial.measures)) {
        if (glide->has_gap) return TrialMark::samples_lost;
        return glide->length > Seconds{} ? TrialMark::none : TrialMark::not_measured;
    }
    const auto& sibilant = std::get<SibilantMeasures>(trial.measures);
    if (sibilant.has_gap) return TrialMark::samples_lost;
    if (sibilant.fading_suspected) return TrialMark::doubtful;
    return sibilant.length > Seconds{} ? TrialMark::none : TrialMark::not_measured;
}

std::optional<Seconds> time_towards_goal(const HoldMeasures& hold, HoldCounts counts)
{
    if (hold.has_gap || hold.doubt || hold.hold_time <= Seconds{}) return std::nullopt;
    return counts == HoldCounts::in_band_only ? hold.in_band : hold.hold_time;
}

HoldTotals hold_totals_of(std::span<const Trial> trials)
{
    HoldTotals totals;
    for (const Trial& trial : trials) {
        const auto* hold = std::get_if<HoldMeasures>(&trial.measures);
        if (hold == nullptr) continue;
        if (const auto time = time_towards_goal(*hold, HoldCounts::all_phonation)) {
            ++totals.holds;
            totals.time += *time;
        }
        if (const auto time = time_towards_goal(*hold, HoldCounts::in_band_only)) {
            ++totals.in_band_holds;
            totals.in_band += *time;
        }
    }
    return totals;
}

void MeanOfDays::add(Date day, Seconds sum, int count)
{
    if (count <= 0) return;
    Day& of = days_[day];
    of.sum += sum;
    of.count += count;
}

std::optional<Seconds> MeanOfDays::value() const
{
    if (days_.empty()) return std::nullopt;
    Seconds sum{};
    for (const auto& [day, of] : days_) sum += of.sum / of.count;
    return sum / static_cast<double>(days_.size());
}

}  // namespace holdwell
