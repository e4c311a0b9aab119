#include "app/base/settings.h"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <string_view>
#include <system_error>

#include "app/base/whole_file.h"

namespace holdwell {

namespace {

namespace fs = std::filesystem;

constexpr const char* kOldWindowFile = "window.conf";

std::string trimmed(std::string_view text)
{
    const std::size_t first = text.find_first_not_of(" \t\r");
    if (first == std::string_view::npos) return "";
    const std::size_t last = text.find_last_not_of(" \t\r");
    return std::string{text.substr(first, last - first + 1)};
}

// A name with a line break would be read as two lines.
std::string one_line(std::string text)
{
    std::replace(text.begin(), text.end(), '\n', ' ');
    return trimmed(text);
}

std::optional<Setting> parsed(const std::string& line)
{
    const std::size_t equals = line.find('=');
    if (equals == std::string::npos) return std::nullopt;
    return Setting{trimmed(std::string_view{line}.substr(0, equals)),
                   trimmed(std::string_view{line}.substr(equals + 1))};
}

std::vector<std::string> lines_of(const fs::path& file)
{
    std::vector<std::string> lines;
    std::ifstream in{file};
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

bool has_key(const std::vector<std::string>& lines, const std::string& key)
{
    return std::ranges::any_of(lines, [&](const std::string& line) {
        const auto setting = parsed(line);
        return setting && setting->key == key;
    });
}

fs::path old_window_file(const fs::path& file) { return file.parent_path() / kOldWindowFile; }

// With what the window's old file held; what is in the settings themselves comes first.
std::vector<std::string> lines_of_both(const fs::path& file)
{
    std::vector<std::string> lines = lines_of(file);
    const std::vector<std::string> newer = lines;
    for (const std::string& line : lines_of(old_window_file(file))) {
        const auto setting = parsed(line);
        if (setting && !has_key(newer, setting->key)) lines.push_back(line);
    }
    return lines;
}

// While one lives, nobody else writes in that folder. Where a folder cannot be locked, the last to
// write wins.
class FolderLock {
public:
    explicit FolderLock(const fs::path& folder)
        : folder_{::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)}
    {
        if (folder_ >= 0) (void)::flock(folder_, LOCK_EX);
    }
    ~FolderLock()
    {
        if (folder_ >= 0) ::close(folder_);
    }
    FolderLock(const FolderLock&) = delete;
    FolderLock& operator=(const FolderLock&) = delete;

private:
    int folder_;
};

void put(std::vector<std::string>& lines, const Setting& setting)
{
    std::erase_if(lines, [&](const std::string& line) {
        const auto there = parsed(line);
        return there && there->key == setting.key;
    });
    if (setting.value) lines.push_back(setting.key + " = " + one_line(*setting.value));
}

}  // namespace

std::optional<fs::path> settings_file()
{
    // Read at the start, by one thread.
    const char* config = std::getenv("XDG_CONFIG_HOME");  // NOLINT(concurrency-mt-unsafe)
    if (config != nullptr && *config != '\0') return fs::path{config} / "holdwell" / "settings";
    const char* home = std::getenv("HOME");  // NOLINT(concurrency-mt-unsafe)
    if (home == nullptr || *home == '\0') return std::nullopt;
    return fs::path{home} / ".config" / "holdwell" / "settings";
}

std::vector<Setting> settings_in(const fs::path& file)
{
    std::vector<Setting> settings;
    for (const std::string& line : lines_of_both(file)) {
        const auto setting = parsed(line);
        if (!setting) continue;
        std::erase_if(settings, [&](const Setting& other) { return other.key == setting->key; });
        settings.push_back(*setting);
    }
    return settings;
}

std::string remembered(const fs::path& file, const std::string& key)
{
    for (const Setting& setting : settings_in(file))
        if (setting.key == key) return setting.value.value_or("");
    return "";
}

Outcome remember(const fs::path& file, const std::vector<Setting>& settings)
{
    std::error_code error;
    if (fs::create_directories(file.parent_path(), error))
        fs::permissions(file.parent_path(), fs::perms::owner_all, error);
    const FolderLock lock{file.parent_path()};
    std::vector<std::string> lines = lines_of_both(file);
    for (const Setting& setting : settings) put(lines, setting);
    std::string text;
    for (const std::string& line : lines) {
        text += line;
        text += '\n';
    }
    const Outcome written = replace_file(file, text);
    if (!written)
        return Error{file.string() + ": the settings could not be saved; check that the folder may "
                                     "be written to and has room."};
    fs::remove(old_window_file(file), error);
    return Done{};
}

}  // namespace holdwell
