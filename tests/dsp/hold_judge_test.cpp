#include "dsp/hold_judge.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

using namespace holdwell;

TEST_CASE("the right note in another octave is told from a wrong note")
{
    struct Row {
        double cents;  // from the target
        int octaves;
    };
    // Band of 100 cents about multiples of 1200.
    constexpr std::array<Row, 9> kRows{{{0.0, 0},
                                        {90.0, 0},
                                        {500.0, 0},
                                        {1090.0, 0},
                                        {1110.0, 1},
                                        {1200.0, 1},
                                        {-1200.0, -1},
                                        {-1320.0, 0},
                                        {2400.0, 2}}};
    for (const Row& row : kRows) {
        CAPTURE(row.cents);
        const Hertz target{349.228};
        const Hertz sung{349.228 * std::pow(2.0, row.cents / 1200.0)};
        CHECK(octaves_off(target, sung, {100.0}) == row.octaves);
    }
}
