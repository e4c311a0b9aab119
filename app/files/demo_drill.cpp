#include "app/files/demo_drill.h"

#include <array>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <utility>

namespace holdwell {

namespace {

constexpr std::array kExercises{std::pair{std::string_view{"glide up"}, DrillKind::rising_glide},
                                std::pair{std::string_view{"glide down"}, DrillKind::falling_glide},
                                std::pair{std::string_view{"s"}, DrillKind::s_hold},
                                std::pair{std::string_view{"z"}, DrillKind::z_hold}};

}  // namespace

Drill drill_of_demo(const std::filesystem::path& recording)
{
    Drill drill;
    std::filesystem::path beside = recording;
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

}  // namespace holdwell
