#pragma once
// What happens to the demonstration's invented clients, before it is acted out (demo_weeks.h).

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "app/practice/plan.h"
#include "dsp/units.h"

namespace holdwell::test {

// A course of weeks: what is so at the beginning, at the end, and on single days.
struct Story {
    std::string_view file;
    std::string_view told;
    std::string_view code;
    std::uint64_t seed;
    VoiceSet voice;
    int days;             // up to kDemoToday
    Seconds first_hold;   // mean of the first days
    Seconds last_hold;    // mean of the last days
    Seconds s_time;       // best quiet /s/; the goal is a second less
    double kept;          // share of the practices that are done
    double breaks_first;  // mean breaks a glide
    double breaks_last;
    double hard_share;         // onsets that are hard at the beginning; none at the end
    std::vector<int> ill;      // days on which she is unwell
    std::vector<int> sore;     // days with discomfort
    std::optional<int> moved;  // day from which another microphone is used
    int silent_days;           // nothing in the last so many days
};

std::vector<Story> demo_stories();

}  // namespace holdwell::test
