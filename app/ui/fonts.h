#pragma once
// The typeface: Inter with the music signs of DejaVu Sans, found through fontconfig; where Inter is
// not installed, DejaVu Sans or Noto Sans.
//
// Sizes are whole pixels, made for one window: text scale times the display's own scale. A change
// of either needs a new atlas.

#include <array>
#include <memory>
#include <string>
#include <vector>

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

struct SizedFont {
    ImFont* face{nullptr};
    float px{0.0f};  // height of a line
};

// Read once for all sizes.
struct FontFiles {
    std::vector<char> regular, bold, music;  // music: may be empty
};

struct FontSet {
    std::array<SizedFont, kTextRoles> of_role{};
    // Where Dear ImGui draws a letter when it first comes up (from 1.92 on); otherwise absent, as
    // all of them are drawn at once.
    std::shared_ptr<FontFiles> files;
    SizedFont of(TextRole role) const { return of_role[static_cast<std::size_t>(role)]; }
};
// Clears the atlas first. The files must exist. The set must outlive the atlas.
FontSet build_fonts(ImFontAtlas* atlas, const FontPaths& paths, const FontScale& scale);

}  // namespace holdwell
