#pragma once
// What the coach remembers about this computer between two starts: lines of `key = value` in
// $XDG_CONFIG_HOME/holdwell/settings (or ~/.config), readable by its owner only. Lines with other
// keys are kept as they are.

#include <filesystem>
#include <optional>
#include <string>

#include "app/base/result.h"

namespace holdwell {

// Nothing when neither XDG_CONFIG_HOME nor HOME is set.
std::optional<std::filesystem::path> settings_file();

// The value, without blanks around it; empty when there is no such file or key.
std::string remembered(const std::filesystem::path& file, const std::string& key);

// The file is replaced as a whole, so that a crash leaves the old or the new one.
Outcome remember(const std::filesystem::path& file, const std::string& key,
                 const std::string& value);

inline constexpr const char* kMicrophoneKey = "microphone";  // a device's name; empty: system's own

}  // namespace holdwell
