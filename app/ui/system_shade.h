#pragma once
// Whether the desktop is set to dark, as far as it says so where a plain program can read it: the
// GTK_THEME variable, then gtk-4.0 and gtk-3.0 settings.ini. Light when nothing says otherwise.

#include <filesystem>
#include <optional>
#include <string_view>

#include "app/ui/palette.h"

namespace holdwell {

// `gtk_theme` as in GTK_THEME; `config` the folder that holds gtk-4.0 and gtk-3.0.
Shade system_shade(std::string_view gtk_theme, const std::filesystem::path& config);
// The same from this process's surroundings.
Shade system_shade();

}  // namespace holdwell
