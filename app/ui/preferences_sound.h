#pragma once
// The part of the preferences that belongs to the microphone: the therapist's calibration, and what
// the last sound check found.

#include <string>
#include <string_view>

#include "app/ui/preferences.h"

namespace holdwell {

// Lines "name = value" of what there is.
std::string sound_text_of(const Preferences& preferences);

// One line's name and value; other names and bad values change nothing.
Preferences with_sound(Preferences preferences, std::string_view name, std::string_view value);

// Without a calibration or a check of which lines were missing or out of range.
Preferences with_whole_sound_only(Preferences preferences);

}  // namespace holdwell
