#pragma once
// The options of `holdwell coach`, which the window shares: as typed, and as checked.

#include <optional>
#include <string>

#include "app/base/result.h"
#include "app/practice/drill.h"

namespace holdwell {

// As typed.
struct CoachArguments {
    std::string note{"F4"};
    std::string band{"100"};
    std::string goal;    // empty: none
    std::string trials;  // empty: two at the microphone, all there are in a recording
    std::string file;    // empty: the microphone
    bool fast{false};
    bool silent{false};
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

Result<CoachOptions> checked(const CoachArguments& arguments);

}  // namespace holdwell
