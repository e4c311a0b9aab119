#pragma once
// Enumerators as the words that stand in the file. The same words as in schema.cpp's constraints; a
// word that is stored is never changed.

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>

#include "app/practice/plan.h"
#include "app/practice/records.h"

namespace holdwell {

// In the order of the enumerators.
template <typename Enum>
inline constexpr auto kNames = std::array<std::string_view, 0>{};

template <>
inline constexpr std::array kNames<DrillKind> = std::to_array<std::string_view>(
    {"warm_up_hold", "ladder_hold", "rising_glide", "falling_glide", "s_hold", "z_hold"});
template <>
inline constexpr std::array kNames<PitchLine> = std::to_array<std::string_view>({"shown",
                                                                                 "hidden"});
template <>
inline constexpr std::array kNames<VoiceSet> = std::to_array<std::string_view>({"higher", "lower",
                                                                                "own"});
template <>
inline constexpr std::array kNames<GoalOrigin> =
    std::to_array<std::string_view>({"s_baseline", "volume_over_flow", "by_hand"});
template <>
inline constexpr std::array kNames<HoldCounts> = std::to_array<std::string_view>({"all_phonation",
                                                                                  "in_band_only"});
template <>
inline constexpr std::array kNames<NoteCue> = std::to_array<std::string_view>({"played", "silent"});
template <>
inline constexpr std::array kNames<Keeps> = std::to_array<std::string_view>({"measures_only",
                                                                             "audio_too"});
template <>
inline constexpr std::array
    kNames<OnsetClass> = std::to_array<std::string_view>({"easy", "hard", "breathy", "unsure"});
template <>
inline constexpr std::array kNames<HoldEnd> =
    std::to_array<std::string_view>({"voice_stopped", "fry", "faded", "stream_ended"});
template <>
inline constexpr std::array kNames<Doubt> =
    std::to_array<std::string_view>({"several_sounds", "machine", "noisy_room", "overloaded"});
template <>
inline constexpr std::array kNames<GlideDirection> = std::to_array<std::string_view>({"up",
                                                                                      "down"});
template <>
inline constexpr std::array kNames<PracticeKind> =
    std::to_array<std::string_view>({"at_home", "in_session", "entered_by_hand"});
template <>
inline constexpr std::array kNames<Completion> = std::to_array<std::string_view>(
    {"under_way", "complete", "partial", "not_today", "stopped_for_discomfort"});
template <>
inline constexpr std::array kNames<Standing> = std::to_array<std::string_view>({"active",
                                                                                "archived"});
template <>
inline constexpr std::array kNames<OnsetAsked> = std::to_array<std::string_view>({"any", "easy"});
template <>
inline constexpr std::array kNames<Cueing> = std::to_array<std::string_view>({"independently",
                                                                              "with_cue"});
template <>
inline constexpr std::array kNames<HandedOut::What> =
    std::to_array<std::string_view>({"plan", "practices", "report", "table"});
template <>
inline constexpr std::array kNames<HandedOut::Days> = std::to_array<std::string_view>({"dates",
                                                                                       "numbers"});

template <typename Enum>
constexpr std::string_view stored_name(Enum value)
{
    return kNames<Enum>[static_cast<std::size_t>(value)];
}

template <typename Enum>
constexpr std::optional<Enum> named_in(std::string_view text)
{
    for (std::size_t i = 0; i < kNames<Enum>.size(); ++i)
        if (kNames<Enum>[i] == text) return static_cast<Enum>(i);
    return std::nullopt;
}

}  // namespace holdwell
