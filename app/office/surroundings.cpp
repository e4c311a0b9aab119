#include "app/office/surroundings.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <ctime>
#include <fstream>
#include <optional>
#include <random>
#include <string>
#include <string_view>

#include "app/office/office.h"

namespace holdwell {
namespace {

namespace fs = std::filesystem;

// Empty when it is not set.
std::string environment(const char* name)
{
    // Read at the start, by one thread.
    const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe)
    return value == nullptr ? "" : value;
}

fs::path home_folder() { return environment("HOME"); }

fs::path beside_home(const char* folder)
{
    const fs::path home = home_folder();
    return home.empty() ? fs::path{} : home / folder;
}

// A variable that is not an absolute path counts as not set: XDG Base Directory Specification.
fs::path xdg_folder(const char* variable, const char* under_home)
{
    const fs::path named = environment(variable);
    return named.is_absolute() ? named : beside_home(under_home);
}

// The text within the quotes of `key="text"`.
std::optional<std::string> quoted_after(const std::string& line, std::string_view key)
{
    const std::string begin = fmt::format("{}=\"", key);
    if (!line.starts_with(begin)) return std::nullopt;
    const std::size_t end = line.find('"', begin.size());
    if (end == std::string::npos) return std::nullopt;
    return line.substr(begin.size(), end - begin.size());
}

// As `xdg-user-dirs` writes it: XDG_DOCUMENTS_DIR="$HOME/Dokumente", or an absolute path.
fs::path user_folder(std::string_view key, const char* usual)
{
    constexpr std::string_view kHome = "$HOME/";
    std::ifstream file{xdg_folder("XDG_CONFIG_HOME", ".config") / "user-dirs.dirs"};
    for (std::string line; std::getline(file, line);) {
        const std::optional<std::string> text = quoted_after(line, key);
        if (!text) continue;
        if (text->starts_with(kHome)) return beside_home(text->substr(kHome.size()).c_str());
        if (fs::path{*text}.is_absolute()) return *text;
    }
    return beside_home(usual);
}

// Where desktops mount what is plugged in, one folder for each medium.
std::vector<fs::path> plugged_in()
{
    std::vector<fs::path> media;
    const std::string user = environment("USER");
    if (user.empty()) return media;
    for (const char* top : {"/media", "/run/media"}) {
        std::error_code ignored;  // nothing is plugged in
        for (const auto& entry : fs::directory_iterator{fs::path{top} / user, ignored})
            media.push_back(entry.path());
    }
    return media;
}

}  // namespace

Moment moment_now() { return moment_of(std::time(nullptr)); }

Moment moment_of(std::time_t time)
{
    std::tm local{};
    ::localtime_r(&time, &local);
    const Date date{std::chrono::year{local.tm_year + 1900},
                    std::chrono::month{static_cast<unsigned>(local.tm_mon + 1)},
                    std::chrono::day{static_cast<unsigned>(local.tm_mday)}};
    return {date, {std::chrono::minutes{60 * local.tm_hour + local.tm_min}}};
}

Id random_id()
{
    std::array<unsigned char, 16> bytes{};
    if (::getentropy(bytes.data(), bytes.size()) != 0) {
        // A kernel before 3.17. The library asks the processor or /dev/urandom.
        std::random_device device;
        std::ranges::generate(bytes, [&] { return static_cast<unsigned char>(device()); });
    }
    Id id;
    for (const unsigned char byte : bytes) id.text += fmt::format("{:02x}", byte);
    return id;
}

fs::path usual_data_folder()
{
    const fs::path data = xdg_folder("XDG_DATA_HOME", ".local/share");
    return data.empty() ? data : data / "holdwell";
}

fs::path usual_documents_folder()
{
    const fs::path documents = user_folder("XDG_DOCUMENTS_DIR", "Documents");
    std::error_code ignored;
    return fs::is_directory(documents, ignored) ? documents : home_folder();
}

std::vector<fs::path> usual_file_folders()
{
    std::vector<fs::path> folders{usual_documents_folder(),
                                  user_folder("XDG_DOWNLOAD_DIR", "Downloads"),
                                  user_folder("XDG_DESKTOP_DIR", "Desktop"), home_folder()};
    std::ranges::copy(plugged_in(), std::back_inserter(folders));
    std::vector<fs::path> there;
    for (const fs::path& folder : folders) {
        std::error_code ignored;
        const bool is_new = std::ranges::find(there, folder) == there.end();
        if (is_new && fs::is_directory(folder, ignored)) there.push_back(folder);
    }
    return there;
}

fs::path usual_templates_folder()
{
    const std::string named = environment("HOLDWELL_PLANS");
    if (!named.empty()) return named;
    std::error_code ignored;
    const fs::path program = fs::read_symlink("/proc/self/exe", ignored);
    return program.parent_path().parent_path() / "share/holdwell/plans";
}

OfficeSettings usual_settings()
{
    OfficeSettings settings;
    settings.data_folder = usual_data_folder();
    settings.templates_folder = usual_templates_folder();
    settings.file_folders = usual_file_folders();
    settings.documents_folder = usual_documents_folder();
    settings.now = moment_now;
    settings.new_id = random_id;
    return settings;
}

}  // namespace holdwell
