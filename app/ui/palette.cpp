#include "app/ui/palette.h"

#include <algorithm>
#include <cmath>

namespace holdwell {
namespace {

constexpr Palette kLight{
    .paper = {0xF7, 0xF4, 0xEE},
    .ink = {0x22, 0x2E, 0x36},
    .quiet_ink = {0x56, 0x60, 0x66},
    .accent = {0x0F, 0x5E, 0x6B},
    .band = {0xDC, 0xE7, 0xE4},
    .middle = {0xAF, 0xC8, 0xC6},
    .unlit = {0xBF, 0xCC, 0xCB},
    .on_accent = {0xFF, 0xFF, 0xFF},
};
constexpr Palette kDark{
    .paper = {0x15, 0x19, 0x1C},
    .ink = {0xEC, 0xE7, 0xDD},
    .quiet_ink = {0xA3, 0xAA, 0xAD},
    .accent = {0x6F, 0xC3, 0xCF},
    .band = {0x22, 0x34, 0x37},
    .middle = {0x38, 0x58, 0x5D},
    .unlit = {0x33, 0x4A, 0x4F},
    .on_accent = {0x10, 0x18, 0x1A},
};

// The sRGB transfer function, with the knee WCAG 2.2 gives.
double linear(std::uint8_t channel)
{
    const double c = static_cast<double>(channel) / 255.0;
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

double luminance_of(Colour c)
{
    return 0.2126 * linear(c.r) + 0.7152 * linear(c.g) + 0.0722 * linear(c.b);
}

}  // namespace

const Palette& palette_of(Shade shade) { return shade == Shade::light ? kLight : kDark; }

double contrast_between(Colour a, Colour b)
{
    const double one = luminance_of(a);
    const double other = luminance_of(b);
    return (std::max(one, other) + 0.05) / (std::min(one, other) + 0.05);
}

}  // namespace holdwell
