#pragma once
// The typeface: Inter with the music signs of DejaVu Sans, found through fontconfig; where Inter is
// not installed, DejaVu Sans or Noto Sans.
//
// Sizes are whole pixels, made for one window: text scale times the display's own scale. A change
// of either needs a new atlas.

#include <array>
#include <string>

#include "app/base/result.h"

struct ImFont;
struct ImFontAtlas;

namespace holdwell {

struct FontPaths {
    std::string regular;  // medium weight: it reads better on paper-coloured ground
    std::string bold;
    std::string music;  // sharp and flat; empty when `regular` has them itself
};
Result<FontPaths> find_fonts();

enum class TextRole { small, body, strong, heading, line, note, stopwatch };
inline constexpr int kTextRoles = 7;

struct FontScale {
    double text{1.0};     // 1 .. 2.5, the person's choice
    double display{1.0};  // pixels to a point, 0.5 .. 4
    int digit_px{190};    // of the stopwatch, fitted to the window
    bool operator==(const FontScale&) const = default;
};

// Height of a line in pixels. What is large already grows by as many pixels as the body does, not
// by the same factor: at 250 % the headings would else leave no room for what they head.
int pixels_of(TextRole role, const FontScale& scale);

struct FontSet {
    std::array<ImFont*, kTextRoles> of_role{};
    ImFont* of(TextRole role) const { return of_role[static_cast<std::size_t>(role)]; }
};
// Clears the atlas first. The files must exist.
FontSet build_fonts(ImFontAtlas* atlas, const FontPaths& paths, const FontScale& scale);

}  // namespace holdwell
