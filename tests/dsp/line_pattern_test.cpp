#include "dsp/line_pattern.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace holdwell;

namespace {

// Eight lines of power 1 in white noise of this power; those that are not multiples of m have
// `between`.
Lines lines(std::size_t m, double between, double noise = 1e-9)
{
    Lines lines{.count = 8};
    for (std::size_t k = 1; k <= lines.count; ++k) {
        lines.power[k - 1] = k % m == 0 ? 1.0 : between;
        lines.over_noise[k - 1] = lines.power[k - 1] / noise;
    }
    return lines;
}

}  // namespace

TEST_CASE("lines as strong as their neighbours fill a pattern, missing ones empty it")
{
    for (const std::size_t m : {2U, 3U}) {
        CAPTURE(m);
        CHECK(filled_between_multiples(lines(m, 1.0), m) == doctest::Approx(1.0));
        const double half = filled_between_multiples(lines(m, 0.25), m);
        const double tenth = filled_between_multiples(lines(m, 0.01), m);
        const double none = filled_between_multiples(lines(m, 0.0), m);
        CHECK(half == doctest::Approx(0.5).epsilon(0.2));
        CHECK(tenth < 0.6 * half);
        CHECK(none < tenth);
        CHECK(none < 0.21);
    }
    CHECK(least_filled(lines(3, 0.0)) < 0.21);
}

TEST_CASE("a few weak lines beside a formant empty a pattern less than weak lines everywhere")
{
    Lines by_formant = lines(2, 1.0);
    by_formant.power[0] = by_formant.power[2] = 0.01;
    const double everywhere = filled_between_multiples(lines(2, 0.0625), 2);
    CHECK(filled_between_multiples(by_formant, 2) > 1.5 * everywhere);
}

TEST_CASE("lines that drown in noise are not held against a pattern")
{
    CHECK(filled_between_multiples(lines(2, 0.0), 2) < 0.21);  // one supposed, four missing
    CHECK(filled_between_multiples(lines(2, 0.0, 1.0), 2) > 0.8);
    CHECK(filled_between_multiples(Lines{}, 2) == 1.0);
}

TEST_CASE("what noise hides is judged where the noise is white, how strong lines are as they sound")
{
    // Whitening has weakened the lower half of a voice at f to a tenth of its amplitude.
    Lines low_noise = lines(2, 0.25);
    for (std::size_t k = 0; k < 4; ++k) low_noise.over_noise[k] *= 0.01;
    CHECK(filled_between_multiples(low_noise, 2) ==
          doctest::Approx(filled_between_multiples(lines(2, 0.25), 2)).epsilon(1e-3));
}
