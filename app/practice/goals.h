#pragma once
// Where a goal for the holds may come from: suggestions with their reasoning, for the therapist to
// adopt or not. Nothing here sets a goal.
//
// In:  times of quiet /s/ (without loudness: a louder /s/ is shorter), or a volume of air and the
//      flow it is spent at, or a figure by hand.
// Out: a goal of 1 .. 120 s with its origin, the sentence that explains it, what it rests on, and
//      remarks where the figures should be looked at again.
//
// Volume over flow: phonation volume / 80 mL/s, the lower edge of ordinary flow (J. Voice 8,
// 271-278, 1994, from memory); a variant divides by 100 mL/s and takes the longest /s/ where flow
// is not measured. Goals found so are far above ordinary phonation times by design.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/base/result.h"
#include "app/practice/plan.h"
#include "app/practice/records.h"

namespace holdwell {

struct Millilitres {
    double value{};
    auto operator<=>(const Millilitres&) const = default;
};
struct MillilitresPerSecond {
    double value{};
    auto operator<=>(const MillilitresPerSecond&) const = default;
};

struct GoalSuggestion {
    Goal goal;                         // set_on is left to whoever adopts it
    std::string source;                // what the rule rests on
    std::vector<std::string> remarks;  // "Check: ..."; one sentence each
};

// ---- from the /s/ baseline -----------------------------------------------------------------

inline constexpr std::size_t kFewestBaselineTrials = 3;
inline constexpr Seconds kShortestPlausibleS{8.0};
inline constexpr Seconds kLongestPlausibleS{40.0};

// What may be used of a practice's /s/ and /z/ trials.
struct SibilantTimes {
    std::vector<Seconds> s;  // in the order in which they were done
    std::vector<Seconds> z;
    int left_out{0};  // samples were lost, or the system faded the hiss
};
SibilantTimes sibilant_times(const Practice& practice);

// The longest of three or more. Fewer: one sentence that asks for the rest.
Result<GoalSuggestion> goal_from_s(std::span<const Seconds> quiet_s);

// ---- from volume and flow ------------------------------------------------------------------

// Which volume was measured: vital capacity is more than the air spent on a hold.
enum class VolumeKind { phonation_volume, vital_capacity };

struct AirSupply {
    Millilitres volume{};  // 500 .. 9000 mL
    VolumeKind kind{VolumeKind::phonation_volume};
    MillilitresPerSecond flow{80.0};  // 80 .. 100 mL/s
};
Result<GoalSuggestion> goal_from_volume(const AirSupply& air);

// ---- by hand -------------------------------------------------------------------------------

Result<GoalSuggestion> goal_by_hand(Seconds hold);

// ---- s/z ratio -----------------------------------------------------------------------------

// Longest /s/ over longest /z/. For the therapist alone: never on a page that a client opens.
struct SzRatio {
    double value{};
    Seconds longest_s{};
    Seconds longest_z{};
    std::optional<std::string> remark{};  // above 1.4
};
inline constexpr double kSzRatioToRepeat = 1.4;
extern const char* const kSzCaution;  // stands beside every s/z ratio

// Absent without an /s/ and a /z/.
std::optional<SzRatio> sz_ratio(std::span<const Seconds> s, std::span<const Seconds> z);

}  // namespace holdwell
