#include <doctest/doctest.h>

#include <initializer_list>

#include "app/ui/palette.h"

using namespace holdwell;

// Reference pairs: W3C, WCAG 2.2: black on white is 21:1 by definition; #767676 on white 4.54:1 and
// #777777 on white 4.48:1 are the greys W3C's own technique G18 and common checkers give.
TEST_CASE("contrast is measured as WCAG 2.2 defines it")
{
    const Colour white{255, 255, 255};
    CHECK(contrast_between({0, 0, 0}, white) == doctest::Approx(21.0));
    CHECK(contrast_between(white, white) == doctest::Approx(1.0));
    CHECK(contrast_between(white, {0x76, 0x76, 0x76}) == doctest::Approx(4.54).epsilon(0.002));
    CHECK(contrast_between({0x77, 0x77, 0x77}, white) == doctest::Approx(4.48).epsilon(0.002));
}

// WCAG 2.2, success criterion 1.4.3 (AA): at least 4.5:1 for text.
TEST_CASE("every pair of words and ground that the screens use reaches 4.5:1")
{
    for (const Shade shade : {Shade::light, Shade::dark}) {
        const Palette& p = palette_of(shade);
        for (const Colour ground : {p.paper, p.band}) {
            CHECK(contrast_between(p.ink, ground) >= 4.5);
            CHECK(contrast_between(p.quiet_ink, ground) >= 4.5);
            CHECK(contrast_between(p.accent, ground) >= 4.5);
        }
        CHECK(contrast_between(p.on_accent, p.accent) >= 4.5);
    }
}

// Red for our purpose: much more red than either other channel.
TEST_CASE("nothing is red")
{
    for (const Shade shade : {Shade::light, Shade::dark}) {
        const Palette& p = palette_of(shade);
        for (const Colour c :
             {p.paper, p.ink, p.quiet_ink, p.accent, p.band, p.middle, p.unlit, p.on_accent}) {
            CHECK(c.r <= c.g + 24);
        }
    }
}
