#include "app/ui/system_shade.h"

#include <cstdlib>
#include <fstream>
#include <string>

namespace holdwell {
namespace {

std::optional<Shade> shade_in(const std::filesystem::path& settings)
{
    std::ifstream file{settings};
    std::string line;
    while (std::getline(file, line)) {
        std::erase(line, ' ');
        if (line == "gtk-application-prefer-dark-theme=1" ||
            line == "gtk-application-prefer-dark-theme=true") {
            return Shade::dark;
        }
        if (line.starts_with("gtk-theme-name=")) {
            const bool is_dark = line.ends_with("-dark") || line.ends_with("-Dark");
            if (is_dark) return Shade::dark;
        }
    }
    return std::nullopt;
}

}  // namespace

Shade system_shade(std::string_view gtk_theme, const std::filesystem::path& config)
{
    if (gtk_theme.ends_with(":dark") || gtk_theme.ends_with("-dark")) return Shade::dark;
    if (!gtk_theme.empty()) return Shade::light;
    for (const char* folder : {"gtk-4.0", "gtk-3.0"}) {
        if (const auto shade = shade_in(config / folder / "settings.ini")) return *shade;
    }
    return Shade::light;
}

Shade system_shade()
{
    const char* theme = std::getenv("GTK_THEME");         // NOLINT(concurrency-mt-unsafe)
    const char* config = std::getenv("XDG_CONFIG_HOME");  // NOLINT(concurrency-mt-unsafe)
    const char* home = std::getenv("HOME");               // NOLINT(concurrency-mt-unsafe)
    const auto folder = config != nullptr && *config != '\0'
                            ? std::filesystem::path{config}
                            : std::filesystem::path{home != nullptr ? home : "."} / ".config";
    return system_shade(theme != nullptr ? theme : "", folder);
}

}  // namespace holdwell
