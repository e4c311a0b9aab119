#pragma once
// What is remembered of the microphone from one day to the next: the therapist's calibration, and
// what the last sound check found. The window and the terminal read and write it here, so that a
// practice bears the same set-up from either.

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "app/base/result.h"
#include "app/engine/sound_setup.h"

namespace holdwell {

struct SoundMemory {
    std::optional<SplReference> spl{};         // absent: levels are relative
    std::optional<CheckedSetup> last_check{};  // absent: before the first sound check
    bool operator==(const SoundMemory&) const = default;
};

// Lines "name = value" of what there is, as they stand in the settings (app/base/settings.h).
std::string sound_text_of(const SoundMemory& memory);
// One line's name and value; other names and bad values change nothing.
SoundMemory with_sound(SoundMemory memory, std::string_view name, std::string_view value);
// Without a calibration or a check of which lines were missing or out of range.
SoundMemory with_whole_sound_only(SoundMemory memory);

SoundMemory remembered_sound(const std::filesystem::path& settings);
// What the last sound check found; everything else in the settings stays.
Outcome remember_check(const std::filesystem::path& settings, const CheckedSetup& check);

}  // namespace holdwell
