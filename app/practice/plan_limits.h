#pragma once
// The ranges of a plan in numbers, for whoever checks or edits one. Lengths of text are in letters
// (Unicode code points).

#include <cstddef>

#include "dsp/tuning.h"
#include "dsp/units.h"

namespace holdwell {

template <typename Value>
struct Limits {
    Value least{};
    Value most{};
    // False for a NaN.
    constexpr bool hold(Value value) const { return value >= least && value <= most; }
};

namespace plan_limits {

inline constexpr Limits<std::size_t> kTitleLetters{1, 80};
inline constexpr std::size_t kMostLetters = 600;  // words for the client, a goal's reasoning
inline constexpr Limits<Note> kNote{Note{36}, Note{84}};  // C2 .. C6
inline constexpr Limits<std::size_t> kLadder{1, 8};
inline constexpr Limits<std::size_t> kDrills{1, 12};
inline constexpr Limits<int> kRepetitions{1, 10};
inline constexpr Limits<int> kPracticesADay{1, 6};
inline constexpr int kMostPracticesADay = 8;
inline constexpr Limits<int> kWeeks{1, 26};
inline constexpr Limits<Cents> kBand{{10.0}, {300.0}};
inline constexpr Limits<Seconds> kBridge{Seconds{0.1}, Seconds{0.5}};
inline constexpr Limits<Seconds> kGoal{Seconds{1.0}, Seconds{120.0}};
inline constexpr Limits<Seconds> kRest{Seconds{15.0}, Seconds{600.0}};
inline constexpr Limits<int> kKeepAudioDays{1, 365};
inline constexpr Limits<std::size_t> kTaperSteps{0, 12};
inline constexpr Limits<std::size_t> kStepNameLetters{1, 80};
inline constexpr Limits<int> kPracticesAWeek{1, 42};
inline constexpr Limits<int> kStepDays{1, 60};
inline constexpr Limits<int> kMetOnDays{1, 30};
inline constexpr Limits<double> kKeepShare{0.5, 1.0};
inline constexpr std::size_t kMostModels = 16;
inline constexpr Seconds kLongestModel{15.0};
inline constexpr std::size_t kMostModelBytes = 3u << 20;  // 15 s at 48 kHz and 24 bits are 2.2 MB

}  // namespace plan_limits
}  // namespace holdwell
