#pragma once
// What the window remembers from one day to the next, among the settings of this computer
// (app/base/settings.h). Bad values leave the usual ones.

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "app/base/result.h"
#include "app/engine/sound_setup.h"
#include "app/practice/drill.h"

namespace holdwell {

enum class Theme { automatic, light, dark };
enum class Cautions { unread, read };

struct Preferences {
    Theme theme{Theme::automatic};
    int text_percent{100};  // 100 .. 250
    PitchLine pitch_line{PitchLine::shown};
    Cautions cautions{Cautions::unread};
    Note target{kF4};             // C2 .. C6
    Cents band{100.0};            // 50 .. 200
    std::optional<Seconds> goal;  // 1 .. 120 s; absent: none
    std::optional<SplReference> spl{};         // absent: levels are relative
    std::optional<CheckedSetup> last_check{};  // absent: before the first sound check
    bool operator==(const Preferences&) const = default;
};

inline constexpr Note kLowestTarget{36};   // C2
inline constexpr Note kHighestTarget{84};  // C6
inline constexpr int kSmallestText = 100;
inline constexpr int kLargestText = 250;
inline constexpr int kTextStep = 25;
inline constexpr Cents kNarrowestBand{50.0};
inline constexpr Cents kWidestBand{200.0};
inline constexpr Seconds kLongestGoal{120.0};

std::string text_of(const Preferences& preferences);
Preferences parse_preferences(std::string_view text);

// The defaults when there is no such file.
Preferences load_preferences(const std::filesystem::path& path);
Outcome save_preferences(const std::filesystem::path& path, const Preferences& preferences);

}  // namespace holdwell
