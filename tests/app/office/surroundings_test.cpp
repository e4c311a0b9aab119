// Clock, chance and folders.

#include "app/office/surroundings.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <optional>
#include <set>
#include <string>

#include "tests/app/files/scratch_folder.h"

using namespace holdwell;
using holdwell::test::ScratchFolder;

namespace {

// One variable of the environment, put back afterwards.
class Variable {
public:
    Variable(const char* name, const std::string& value) : name_{name}
    {
        if (const char* before = std::getenv(name)) before_ = before;
        ::setenv(name, value.c_str(), 1);
    }
    ~Variable()
    {
        if (before_)
            ::setenv(name_, before_->c_str(), 1);
        else
            ::unsetenv(name_);
    }
    Variable(const Variable&) = delete;
    Variable& operator=(const Variable&) = delete;

private:
    const char* name_;
    std::optional<std::string> before_;
};

}  // namespace

TEST_CASE("ids are 32 hexadecimal digits and do not repeat")
{
    std::set<std::string> seen;
    for (int i = 0; i < 1000; ++i) {
        const std::string id = random_id().text;
        CHECK(id.size() == 32);
        CHECK(id.find_first_not_of("0123456789abcdef") == std::string::npos);
        seen.insert(id);
    }
    CHECK(seen.size() == 1000);
}

TEST_CASE("the moment is the day and minute of the local clock")
{
    const auto by_library = [] {
        const std::time_t now = std::time(nullptr);
        char text[32] = {};
        std::strftime(text, sizeof text, "%Y-%m-%d %H:%M", std::localtime(&now));
        return std::string{text};
    };
    const auto as_text = [](const Moment& moment) {
        char text[32] = {};
        std::snprintf(
            text, sizeof text, "%04d-%02u-%02u %02d:%02d", static_cast<int>(moment.date.year()),
            static_cast<unsigned>(moment.date.month()), static_cast<unsigned>(moment.date.day()),
            static_cast<int>(moment.time.since_midnight.count() / 60),
            static_cast<int>(moment.time.since_midnight.count() % 60));
        return std::string{text};
    };
    for (const char* zone : {"UTC", "Pacific/Kiritimati", "America/St_Johns"}) {
        const Variable tz{"TZ", zone};
        ::tzset();
        const std::string before = by_library();
        const std::string moment = as_text(moment_now());
        const std::string after = by_library();  // a minute may have passed
        CHECK((moment == before || moment == after));
    }
    ::tzset();
}

// XDG Base Directory Specification 0.8: $XDG_DATA_HOME, else $HOME/.local/share; a path that is not
// absolute is to be ignored.
TEST_CASE("records lie where the desktop keeps a person's data")
{
    const Variable home{"HOME", "/home/somebody"};
    {
        const Variable data{"XDG_DATA_HOME", "/elsewhere"};
        CHECK(usual_data_folder() == "/elsewhere/holdwell");
    }
    for (const char* none : {"", "relative/path"}) {
        const Variable data{"XDG_DATA_HOME", none};
        CHECK(usual_data_folder() == "/home/somebody/.local/share/holdwell");
    }
    const Variable nowhere{"HOME", ""};
    const Variable data{"XDG_DATA_HOME", ""};
    CHECK(usual_data_folder().empty());
}

TEST_CASE("documents go where the desktop's own settings say, else to Documents, else home")
{
    const ScratchFolder scratch;
    const Variable home{"HOME", scratch.path("")};
    const Variable config{"XDG_CONFIG_HOME", ""};
    const auto documents = [] { return usual_documents_folder().lexically_normal().string(); };
    CHECK(documents() == scratch.path(""));
    std::filesystem::create_directory(scratch.path("Documents"));
    CHECK(documents() == scratch.path("Documents"));
    std::filesystem::create_directory(scratch.path(".config"));
    std::filesystem::create_directory(scratch.path("Dokumente"));
    // As xdg-user-dirs-update writes it.
    scratch.file(
        ".config/user-dirs.dirs",
        "# comment\nXDG_DOWNLOAD_DIR=\"/somewhere\"\nXDG_DOCUMENTS_DIR=\"$HOME/Dokumente\"\n");
    CHECK(documents() == scratch.path("Dokumente"));
    const auto folders = usual_file_folders();
    CHECK(std::ranges::find(folders, usual_documents_folder()) != folders.end());
    for (const auto& folder : folders) CHECK(std::filesystem::is_directory(folder));
}
