#pragma once
// Names of a plan's choices, as they stand in its file.

#include "app/files/json_reader.h"
#include "app/practice/plan.h"

namespace holdwell {

inline constexpr const char* kPlanFormat = "holdwell plan";

inline constexpr Names<VoiceSet, 3> kVoiceSetNames{
    {{VoiceSet::higher, "higher"}, {VoiceSet::lower, "lower"}, {VoiceSet::own, "own"}}};
inline constexpr Names<GoalOrigin, 3> kGoalOriginNames{
    {{GoalOrigin::s_baseline, "s_baseline"},
     {GoalOrigin::volume_over_flow, "volume_over_flow"},
     {GoalOrigin::by_hand, "by_hand"}}};
inline constexpr Names<HoldCounts, 2> kHoldCountsNames{
    {{HoldCounts::all_phonation, "all_phonation"}, {HoldCounts::in_band_only, "in_band_only"}}};
inline constexpr Names<NoteCue, 2> kNoteCueNames{
    {{NoteCue::played, "played"}, {NoteCue::silent, "silent"}}};
inline constexpr Names<PitchLine, 2> kPitchLineNames{
    {{PitchLine::shown, "shown"}, {PitchLine::hidden, "hidden"}}};
inline constexpr Names<Keeps, 2> kKeepsNames{
    {{Keeps::measures_only, "measures_only"}, {Keeps::audio_too, "audio_too"}}};

}  // namespace holdwell
