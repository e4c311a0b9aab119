#include "app/base/settings.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <thread>

#include <stdlib.h>
#include <unistd.h>

using namespace holdwell;
namespace fs = std::filesystem;

namespace {

class TemporaryFolder {
public:
    TemporaryFolder()
        : path_{fs::temp_directory_path() / ("holdwell-settings-" + std::to_string(getpid()))}
    {
        fs::create_directories(path_);
    }
    ~TemporaryFolder() { fs::remove_all(path_); }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    const fs::path& path() const { return path_; }

private:
    fs::path path_;
};

std::string text_of(const fs::path& file)
{
    std::ifstream in{file};
    return {std::istreambuf_iterator<char>{in}, {}};
}

}  // namespace

TEST_CASE("a microphone is remembered by its name, readable by the owner alone")
{
    const TemporaryFolder folder;
    const fs::path file = folder.path() / "holdwell" / "settings";
    CHECK(remembered(file, kMicrophoneKey).empty());
    REQUIRE(remember(file, {{kMicrophoneKey, "Caf\xc3\xa9 mic: USB = good (hw:1,0)"}}));
    CHECK(remembered(file, kMicrophoneKey) == "Caf\xc3\xa9 mic: USB = good (hw:1,0)");
    CHECK(fs::status(file).permissions() == (fs::perms::owner_read | fs::perms::owner_write));
    CHECK(fs::status(file.parent_path()).permissions() == fs::perms::owner_all);

    REQUIRE(remember(file, {{kMicrophoneKey, ""}}));
    CHECK(remembered(file, kMicrophoneKey).empty());
}

TEST_CASE("what else the settings hold is kept")
{
    const TemporaryFolder folder;
    const fs::path file = folder.path() / "settings";
    std::ofstream{file} << "# by hand\ntheme = dark\nmicrophone = old\n";
    REQUIRE(remember(file, {{kMicrophoneKey, "new\nnext"}}));
    CHECK(text_of(file) == "# by hand\ntheme = dark\nmicrophone = new next\n");
}

TEST_CASE("several settings are written at once, and one that is taken out is gone")
{
    const TemporaryFolder folder;
    const fs::path file = folder.path() / "settings";
    REQUIRE(remember(file, {{"a", "1"}, {"b", "2"}}));
    REQUIRE(remember(file, {{"a", std::nullopt}, {"c", "3"}}));
    CHECK(text_of(file) == "b = 2\nc = 3\n");
}

TEST_CASE("the window's old file is taken over, and what is newer comes first")
{
    const TemporaryFolder folder;
    const fs::path file = folder.path() / "settings";
    std::ofstream{folder.path() / "window.conf"} << "theme = dark\ntext_percent = 150\n";
    std::ofstream{file} << "microphone = one\ntheme = light\n";
    CHECK(remembered(file, "text_percent") == "150");
    CHECK(remembered(file, "theme") == "light");
    CHECK(fs::exists(folder.path() / "window.conf"));  // reading changes nothing
    REQUIRE(remember(file, {{kMicrophoneKey, "two"}}));
    CHECK(text_of(file) == "theme = light\ntext_percent = 150\nmicrophone = two\n");
    CHECK_FALSE(fs::exists(folder.path() / "window.conf"));
}

TEST_CASE("threads: two that remember at once lose nothing of each other's")
{
    const TemporaryFolder folder;
    const fs::path file = folder.path() / "settings";
    const auto write = [&](const std::string& key) {
        for (int i = 1; i <= 40; ++i) {
            const Outcome kept = remember(file, {{key, std::to_string(i)}});
            if (!kept) return;
        }
    };
    std::thread other{write, "theme"};
    write(kMicrophoneKey);
    other.join();
    CHECK(remembered(file, "theme") == "40");
    CHECK(remembered(file, kMicrophoneKey) == "40");
}

TEST_CASE("settings that cannot be saved are said in one sentence, with the file's name")
{
    const TemporaryFolder folder;
    const fs::path blocked = folder.path() / "in the way";
    std::ofstream{blocked} << "a file where a folder would be\n";
    const Outcome outcome = remember(blocked / "settings", {{kMicrophoneKey, "x"}});
    REQUIRE_FALSE(outcome.has_value());
    CHECK(outcome.error().message.find("in the way/settings: ") != std::string::npos);
}

TEST_CASE("the settings lie where the desktop's rules say")
{
    // XDG Base Directory Specification 0.8: $XDG_CONFIG_HOME, else $HOME/.config.
    setenv("XDG_CONFIG_HOME", "/somewhere", 1);
    CHECK(settings_file() == fs::path{"/somewhere/holdwell/settings"});
    setenv("XDG_CONFIG_HOME", "", 1);
    setenv("HOME", "/at/home", 1);
    CHECK(settings_file() == fs::path{"/at/home/.config/holdwell/settings"});
    unsetenv("HOME");
    CHECK_FALSE(settings_file().has_value());
}
