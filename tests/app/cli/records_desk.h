#pragma once
// A computer whose folders are in a scratch folder, and the commands run on it.

#include <filesystem>
#include <string>
#include <vector>

#include "tests/app/cli/session.h"
#include "tests/app/files/scratch_folder.h"

namespace holdwell::test {

inline constexpr Date kToday{std::chrono::year{2026}, std::chrono::April, std::chrono::day{27}};

class Desk {
public:
    Ran operator()(std::vector<std::string> words)
    {
        Surroundings around;
        around.office_settings = [this] { return settings(); };
        return test::run(words, around);
    }
    std::string path(const std::string& name) const { return folder_.path(name); }
    std::string file(const std::string& name, const std::string& text) const
    {
        return folder_.file(name, text);
    }

private:
    OfficeSettings settings()
    {
        OfficeSettings settings;
        settings.data_folder = folder_.path("data");
        settings.documents_folder = folder_.path("documents");
        settings.templates_folder = std::filesystem::path{HOLDWELL_SOURCE_DIR} / "assets" / "plans";
        settings.now = [] { return Moment{kToday, {}}; };
        settings.new_id = [this] {
            const std::string digits = std::to_string(++ids_);
            return Id{std::string(32 - digits.size(), '0') + digits};
        };
        return settings;
    }
    ScratchFolder folder_;
    int ids_{0};
};

}  // namespace holdwell::test
