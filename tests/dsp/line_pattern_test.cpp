#include "dsp/line_pattern.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace holdwell;

namespace {

// Eight lines of power 1; those that are not multiples of m have `between`.
LineFit lines(std::size_t m, double between)
{
    LineFit fit;
    fit.count = 8;
    for (std::size_t k = 1; k <= fit.count; ++k) fit.power[k - 1] = k % m == 0 ? 1.0 : between;
    return fit;
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
        CHECK(none < 0.2);
    }
    CHECK(least_filled(lines(3, 0.0)) < 0.2);
}

TEST_CASE("a few weak lines beside a formant empty a pattern less than weak lines everywhere")
{
    LineFit by_formant = lines(2, 1.0);
    by_formant.power[0] = by_formant.power[2] = 0.01;
    CHECK(filled_between_multiples(by_formant, 2) > 0.55);
    CHECK(filled_between_multiples(lines(2, 0.0625), 2) < 0.55);  // a quarter in amplitude
}

TEST_CASE("lines that drown in noise are not held against a pattern")
{
    LineFit drowned = lines(2, 0.0);
    CHECK(filled_between_multiples(drowned, 2) < 0.2);
    drowned.noise_power = 1.0;
    CHECK(filled_between_multiples(drowned, 2) > 0.8);
    CHECK(filled_between_multiples(LineFit{}, 2) == 1.0);
}
