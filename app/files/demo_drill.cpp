#include "app/files/demo_drill.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>

namespace holdwell {

namespace {

namespace fs = std::filesystem;

constexpr std::array kExercises{std::pair{std::string_view{"glide up"}, DrillKind::rising_glide},
                                std::pair{std::string_view{"glide down"}, DrillKind::falling_glide},
                                std::pair{std::string_view{"s"}, DrillKind::s_hold},
                                std::pair{std::string_view{"z"}, DrillKind::z_hold}};

bool is_demo(fs::path file)
{
    std::error_code ignored;
    return file.extension() == ".flac" && fs::exists(file.replace_extension(".json"), ignored);
}

}  // namespace

Drill drill_of_demo(const fs::path& recording)
{
    Drill drill;
    fs::path beside = recording;
    std::ifstream file{beside.replace_extension(".json")};
    const auto told = nlohmann::json::parse(file, nullptr, false);
    if (!told.is_object() || !told.contains("exercise") || !told["exercise"].is_string()) {
        return drill;
    }
    const auto exercise = told["exercise"].get<std::string>();
    for (const auto& [name, kind] : kExercises) {
        if (exercise == name) drill.kind = kind;
    }
    return drill;
}

std::vector<fs::path> demos_in(const fs::path& folder)
{
    std::vector<fs::path> demos;
    std::error_code ignored;
    for (const auto& entry : fs::directory_iterator{folder, ignored}) {
        if (is_demo(entry.path())) demos.push_back(entry.path());
    }
    std::ranges::sort(demos);
    return demos;
}

std::vector<fs::path> demos_from(const fs::path& recording)
{
    const fs::path folder = recording.parent_path();
    std::vector<fs::path> demos = demos_in(folder.empty() ? fs::path{"."} : folder);
    const auto first = std::ranges::find(demos, recording.filename(), &fs::path::filename);
    if (first == demos.end()) return {recording};
    std::rotate(demos.begin(), first, demos.end());
    return demos;
}

}  // namespace holdwell
