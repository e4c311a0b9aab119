#pragma once
// What the program remembers about this computer between two starts: lines of `key = value` in
// $XDG_CONFIG_HOME/holdwell/settings (or ~/.config), readable by their owner alone. One file for
// the window and the microphone; whoever writes names the keys that are theirs, all other lines are
// kept as they are. Written whole (app/base/whole_file.h), by one at a time, in this program and
// others.
//
// Where there is still a file window.conf beside it, in which earlier copies kept what was chosen
// in the window, it is read until the settings are next written, which then hold what it held.

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "app/base/result.h"

namespace holdwell {

// Nothing when neither XDG_CONFIG_HOME nor HOME is set.
std::optional<std::filesystem::path> settings_file();

struct Setting {
    std::string key;
    std::optional<std::string> value{};  // on one line; absent: the key is not in the file
};

// Every key that is there, once, without blanks around key and value; none without a file.
std::vector<Setting> settings_in(const std::filesystem::path& file);
// The value; empty when there is no such file or key.
std::string remembered(const std::filesystem::path& file, const std::string& key);

// All of them or none.
Outcome remember(const std::filesystem::path& file, const std::vector<Setting>& settings);

inline constexpr const char* kMicrophoneKey = "microphone";  // a device's name; empty: system's own

}  // namespace holdwell
