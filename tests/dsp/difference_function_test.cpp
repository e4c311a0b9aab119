#include "dsp/difference_function.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

using namespace holdwell;

namespace {

constexpr SampleRate kRate{8000.0};
constexpr std::size_t kLength = 296;

std::vector<float> two_lines(double f)
{
    std::vector<float> x(kLength);
    for (std::size_t i = 0; i < kLength; ++i) {
        const double turn = 2.0 * std::numbers::pi * f * static_cast<double>(i) / kRate.hz;
        x[i] = static_cast<float>(std::cos(turn) + 0.5 * std::cos(2.0 * turn + 1.0));
    }
    return x;
}

// Equation (6) and its normalisation, straight from the definition.
double direct(const std::vector<float>& x, std::size_t tau)
{
    double difference = 0.0;
    double energy = 0.0;
    for (std::size_t j = 0; j + tau < x.size(); ++j) {
        const double a = static_cast<double>(x[j]);
        const double b = static_cast<double>(x[j + tau]);
        difference += (a - b) * (a - b);
        energy += a * a + b * b;
    }
    return difference / energy;
}

}  // namespace

TEST_CASE("the best candidate is where the directly summed difference is least")
{
    DifferenceFunction function{kRate, kLength, {{60.0}, {1100.0}}};
    for (const double f : {100.0, 160.0, 200.0, 250.0, 400.0}) {  // whole periods in samples
        CAPTURE(f);
        const std::vector<float> x = two_lines(f);
        const PeriodCandidates found = function.find_candidates(x);
        REQUIRE(found.count > 0);
        const PeriodCandidate& best = found.list[0];
        CHECK(std::abs(interval_between({f}, best.f0).value) < 10.0);
        const auto tau = static_cast<std::size_t>(std::lround(kRate.hz / f));
        CHECK(std::abs(best.aperiodicity - direct(x, tau)) < 0.01);
        CHECK(direct(x, tau) < direct(x, tau - 1));
        CHECK(direct(x, tau) < direct(x, tau + 1));
    }
}

TEST_CASE("a period of half a sample more than a whole number is found as well")
{
    DifferenceFunction function{kRate, kLength, {{60.0}, {1100.0}}};
    for (const double period : {10.5, 20.5, 45.5, 80.5}) {
        CAPTURE(period);
        const double f = kRate.hz / period;
        const PeriodCandidates found = function.find_candidates(two_lines(f));
        REQUIRE(found.count > 0);
        CHECK(std::abs(interval_between({f}, found.list[0].f0).value) < 10.0);
        CHECK(found.list[0].aperiodicity < 0.01);  // a periodic sound has none
    }
}

TEST_CASE("silence has no candidates")
{
    DifferenceFunction function{kRate, kLength, {{60.0}, {1100.0}}};
    CHECK(function.find_candidates(std::vector<float>(kLength, 0.0f)).count == 0);
}
