#pragma once
// The colours: ink on warm paper and one teal accent, light and dark; and the contrast between two.
//
// Never red, and no meaning by colour alone: every colour has a word or a shape beside it.

#include <cstdint>

namespace holdwell {

// sRGB, 0 .. 255 each, opaque.
struct Colour {
    std::uint8_t r{0};
    std::uint8_t g{0};
    std::uint8_t b{0};
    bool operator==(const Colour&) const = default;
};

struct Palette {
    Colour paper;      // the ground of every screen
    Colour ink;        // headings, stopwatch, line of words
    Colour quiet_ink;  // everything beside the main thing; still 4.5:1 on paper
    Colour accent;     // the voice: ink line, shore, chosen things
    Colour band;       // the ribbon
    Colour middle;     // the target inside the ribbon, lines between parts
    Colour unlit;      // empty parts of a meter; the words beside it carry the meaning
    Colour on_accent;  // words on an accent ground
};

enum class Shade { light, dark };
const Palette& palette_of(Shade shade);

// (L1 + 0.05) / (L2 + 0.05) of the relative luminances, the lighter first: 1 .. 21.
// W3C, Web Content Accessibility Guidelines 2.2, "contrast ratio" and "relative luminance".
double contrast_between(Colour a, Colour b);

}  // namespace holdwell
