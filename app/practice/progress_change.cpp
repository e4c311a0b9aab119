#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "app/practice/drill_words.h"
#include "app/practice/progress_parts.h"

namespace holdwell {

namespace {

std::string figures(const Change& change)
{
    const TimedWeek& first = *change.first;
    const TimedWeek& last = *change.last;
    const double difference = change.difference.count();
    std::string said = fmt::format(
        "Week {} mean {:.1f} s over {} days, week {} mean {:.1f} s over {} days: {}{:.1f} s",
        first.week, first.mean->count(), first.days, last.week, last.mean->count(), last.days,
        difference < 0.0 ? "−" : "+", std::abs(difference));
    // Nothing is a share of nothing.
    if (first.mean->count() > 0.0) {
        said += fmt::format(" ({:.0f} %)", 100.0 * std::abs(difference) / first.mean->count());
    }
    return said;
}

Change::Kind kind_of(double difference, double first)
{
    constexpr double kRounding = 1e-9;  // 5 s exactly is a change
    const double least = std::max(kLeastChange.count(), kLeastChangeShare * first);
    if (std::abs(difference) < least - kRounding) return Change::Kind::within_variation;
    return difference > 0.0 ? Change::Kind::longer : Change::Kind::shorter;
}

const char* words_for(Change::Kind kind)
{
    switch (kind) {
    case Change::Kind::within_variation:
        return ": within day-to-day variation (less than 5 s or less than 20 %).";
    case Change::Kind::longer:
        return " longer.";
    case Change::Kind::shorter:
        return " shorter.";
    case Change::Kind::too_few_days:
        break;
    }
    return ".";
}

}  // namespace

Change change_between(const std::vector<TimedWeek>& weeks)
{
    std::vector<TimedWeek> with_mean;
    std::ranges::copy_if(weeks, std::back_inserter(with_mean),
                         [](const TimedWeek& week) { return week.mean.has_value(); });
    if (with_mean.size() < 2) {
        return {.reason = fmt::format("No change can be said yet: it takes two weeks with {} "
                                      "practised days or more each.",
                                      kDaysForMean)};
    }
    Change change{.first = with_mean.front(), .last = with_mean.back()};
    const Seconds first = rounded_to_tenth(*change.first->mean);
    change.difference = rounded_to_tenth(*change.last->mean) - first;
    change.kind = kind_of(change.difference.count(), first.count());
    change.reason = figures(change) + words_for(change.kind);
    return change;
}

}  // namespace holdwell
