#include "app/practice/goals.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <utility>

#include "app/practice/drill_words.h"
#include "app/practice/plan_limits.h"

namespace holdwell {
namespace {

namespace limits = plan_limits;

constexpr Limits<Millilitres> kVolume{{500.0}, {9000.0}};
constexpr Limits<MillilitresPerSecond> kFlow{{80.0}, {100.0}};

constexpr const char* kLongestSSource =
    "The longest quiet /s/ where airflow is not measured: common teaching of the routine.";
constexpr const char* kVolumeSource =
    "Phonation volume over the lower edge of ordinary flow, 80 mL/s: J. Voice 8, 271-278, 1994 "
    "(from memory); 100 mL/s is also taught.";

// Figures as one writes them: "3000", "87.5".
std::string plainly(double value)
{
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.6g", value);
    return text.data();
}

// To the tenth of a second that is shown: what the sentence says is what is set.
Seconds as_shown(Seconds time) { return rounded_to_tenth(time); }

std::optional<Error> beyond_goals(Seconds hold)
{
    if (limits::kGoal.hold(hold)) return std::nullopt;
    return Error{"A goal of " + plainly(hold.count()) + " s cannot be set; it may be 1 to 120 s."};
}

struct Origin {
    GoalOrigin origin;
    const char* source;
};
constexpr Origin kFromS{GoalOrigin::s_baseline, kLongestSSource};
constexpr Origin kFromVolume{GoalOrigin::volume_over_flow, kVolumeSource};
constexpr Origin kByHand{GoalOrigin::by_hand, "The therapist's judgement."};

GoalSuggestion suggested(Seconds hold, const Origin& origin, std::string reasoning)
{
    GoalSuggestion suggestion;
    suggestion.goal.hold = hold;
    suggestion.goal.origin = origin.origin;
    suggestion.goal.reasoning = std::move(reasoning);
    suggestion.source = origin.source;
    return suggestion;
}

std::string check_of(Seconds longest)
{
    if (longest < kShortestPlausibleS)
        return "Check: less than 8 s is short for an /s/; was it quiet, and the breath full?";
    return "Check: more than 40 s is long for an /s/; was it the /s/ that was timed?";
}

Seconds longest_of(std::span<const Seconds> times)
{
    return *std::max_element(times.begin(), times.end());
}

}  // namespace

SibilantTimes sibilant_times(const Practice& practice)
{
    SibilantTimes times;
    for (const Trial& trial : practice.trials) {
        const auto* hiss = std::get_if<SibilantMeasures>(&trial.measures);
        if (hiss == nullptr) continue;
        if (hiss->has_gap || hiss->fading_suspected)
            ++times.left_out;
        else
            (trial.kind == DrillKind::z_hold ? times.z : times.s).push_back(hiss->length);
    }
    return times;
}

Result<GoalSuggestion> goal_from_s(std::span<const Seconds> quiet_s)
{
    if (quiet_s.size() < kFewestBaselineTrials)
        return Error{"A goal from the /s/ needs three quiet /s/ or more; there " +
                     std::string{quiet_s.size() == 1 ? "is " : "are "} +
                     count_in_words(static_cast<int>(quiet_s.size())) + "."};
    const Seconds longest = as_shown(longest_of(quiet_s));
    if (const auto beyond = beyond_goals(longest)) return *beyond;
    GoalSuggestion suggestion = suggested(longest, kFromS,
                                          "Longest of " + std::to_string(quiet_s.size()) +
                                              " quiet /s/: " + tenths(longest) + " s.");
    if (longest < kShortestPlausibleS || longest > kLongestPlausibleS)
        suggestion.remarks.push_back(check_of(longest));
    return suggestion;
}

Result<GoalSuggestion> goal_from_volume(const AirSupply& air)
{
    if (!kVolume.hold(air.volume))
        return Error{"The volume is " + plainly(air.volume.value) +
                     " mL; it may be 500 to 9000 mL."};
    if (!kFlow.hold(air.flow))
        return Error{"The flow is " + plainly(air.flow.value) + " mL/s; it may be 80 to 100 mL/s."};
    const Seconds hold = as_shown(Seconds{air.volume.value / air.flow.value});
    const bool is_capacity = air.kind == VolumeKind::vital_capacity;
    GoalSuggestion suggestion =
        suggested(hold, kFromVolume,
                  std::string{is_capacity ? "Vital capacity " : "Phonation volume "} +
                      plainly(air.volume.value) + " mL over " + plainly(air.flow.value) +
                      " mL/s: " + tenths(hold) + " s.");
    if (is_capacity)
        suggestion.remarks.emplace_back(
            "Check: vital capacity is more than the air that is spent on a hold (phonation volume "
            "is about a half to nine tenths of it), so this goal is too high.");
    suggestion.remarks.emplace_back(
        "Goals found so lie far above ordinary phonation times: not to reach it at first is "
        "expected.");
    return suggestion;
}

Result<GoalSuggestion> goal_by_hand(Seconds hold)
{
    if (const auto beyond = beyond_goals(hold)) return *beyond;
    return suggested(hold, kByHand, "Set by hand.");
}

const char* const kSzCaution = "Screening only; healthy and lesion values overlap; it does not "
                               "diagnose (J. Speech Hear. Disord. 46, 147-149, 1981; J. Voice 20, "
                               "369-379, 2006).";

std::optional<SzRatio> sz_ratio(std::span<const Seconds> s, std::span<const Seconds> z)
{
    if (s.empty() || z.empty()) return std::nullopt;
    SzRatio ratio{.longest_s = longest_of(s), .longest_z = longest_of(z), .remark = {}};
    if (ratio.longest_z <= Seconds{0.0}) return std::nullopt;
    ratio.value = ratio.longest_s / ratio.longest_z;
    if (ratio.value > kSzRatioToRepeat)
        ratio.remark = "Above 1.4: repeat; consider discussing it with the physician.";
    return ratio;
}

}  // namespace holdwell
