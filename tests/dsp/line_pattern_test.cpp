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

TEST_CASE("lines between multiples count by the ratio of their amplitudes, 0.03 at least")
{
    for (const std::size_t m : {2U, 3U}) {
        CAPTURE(m);
        for (const double power : {1.0, 0.25, 0.01}) {
            CHECK(filled_between_multiples(lines(m, power), m) ==
                  doctest::Approx(std::sqrt(power)));
        }
        CHECK(filled_between_multiples(lines(m, 0.0), m) == doctest::Approx(0.03));
    }
    CHECK(least_filled(lines(3, 0.01)) == doctest::Approx(0.1));
}

TEST_CASE("without any line to compare nothing is held against a pattern")
{
    CHECK(filled_between_multiples(LineFit{}, 2) == 1.0);
}
