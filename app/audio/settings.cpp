#include "app/audio/settings.h"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <string_view>
#include <system_error>
#include <vector>

namespace holdwell {

namespace {

namespace fs = std::filesystem;

struct Line {
    std::string key;
    std::string value;
};

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

std::optional<Line> parse_line(const std::string& text)
{
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos) return std::nullopt;
    return Line{trimmed(std::string_view{text}.substr(0, equals)),
                trimmed(std::string_view{text}.substr(equals + 1))};
}

std::vector<std::string> lines_of(const fs::path& file)
{
    std::vector<std::string> lines;
    std::ifstream in{file};
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

Error cannot_write(const fs::path& file)
{
    return Error{file.string() + ": the settings could not be saved; check that the folder may be "
                                 "written to and has room."};
}

bool write_lines(const fs::path& file, const std::vector<std::string>& lines)
{
    std::ofstream out{file, std::ios::trunc};
    std::error_code error;
    fs::permissions(file, fs::perms::owner_read | fs::perms::owner_write, error);
    for (const std::string& line : lines) out << line << '\n';
    out.close();
    return out.good() && !error;
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

std::string remembered(const fs::path& file, const std::string& key)
{
    for (const std::string& text : lines_of(file)) {
        const std::optional<Line> line = parse_line(text);
        if (line && line->key == key) return line->value;
    }
    return "";
}

Outcome remember(const fs::path& file, const std::string& key, const std::string& value)
{
    std::vector<std::string> lines = lines_of(file);
    std::erase_if(lines, [&](const std::string& text) {
        const std::optional<Line> line = parse_line(text);
        return line && line->key == key;
    });
    lines.push_back(key + " = " + one_line(value));

    std::error_code error;
    if (fs::create_directories(file.parent_path(), error)) {
        fs::permissions(file.parent_path(), fs::perms::owner_all, error);
    }
    const fs::path fresh = file.string() + ".new";
    if (!write_lines(fresh, lines)) return cannot_write(file);
    fs::rename(fresh, file, error);
    if (error) return cannot_write(file);
    return Done{};
}

}  // namespace holdwell
