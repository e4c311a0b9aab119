#pragma once
// The options of `holdwell coach`, which the window shares: as typed, and as checked.

#include <filesystem>
#include <optional>
#include <string>

#include "app/base/result.h"
#include "app/practice/drill.h"

namespace holdwell {

// As typed.
struct CoachArguments {
    std::string note{"F4"};
    std::string band{"100"};
    std::optional<std::string> goal{};    // absent: none
    std::optional<std::string> trials{};  // absent: two at the microphone, all in a recording
    std::optional<std::string> file{};    // absent: the microphone
    bool fast{false};
    bool silent{false};
    std::optional<std::string> plan{};  // a plan's file, or "home"; absent: one drill
    std::optional<std::string> data{};  // folder of the records; absent: the person's own
    bool fit{false};                    // none of the questions before a practice applies
};

enum class Pace { real_time, fast };
enum class Cue { play_note, silent };

struct CoachOptions {
    Drill drill;
    std::optional<int> trials;
    std::optional<std::string> recording;  // absent: the microphone
    Pace pace{Pace::real_time};
    Cue cue{Cue::play_note};
};

enum class Fitness { to_be_asked, nothing_against };

// `coach --plan`.
struct PlanOptions {
    std::string plan;                             // a file, or kHomePlan
    std::optional<std::filesystem::path> data{};  // folder of the records
    Fitness fitness{Fitness::to_be_asked};
    std::optional<std::string> recording{};  // absent: the microphone
    Pace pace{Pace::real_time};
    Cue cue{Cue::play_note};
};
inline constexpr const char* kHomePlan = "home";

Result<CoachOptions> checked(const CoachArguments& arguments);
// With a plan named.
Result<PlanOptions> checked_for_plan(const CoachArguments& arguments);

}  // namespace holdwell
