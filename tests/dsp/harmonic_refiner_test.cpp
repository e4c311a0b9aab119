#include "dsp/harmonic_refiner.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "tests/support/random.h"

using namespace holdwell;

namespace {

constexpr SampleRate kRate{8000.0};
constexpr std::size_t kLength = 296;

// phi(t) = 2 pi (f t + s t^2 / 2) about the middle; lines 1 / k.
std::vector<float> chirp(double f, double slope, double noise_sd, test::Random& random)
{
    std::vector<float> x(kLength);
    for (std::size_t i = 0; i < kLength; ++i) {
        const double t = (static_cast<double>(i) - (kLength - 1.0) / 2.0) / kRate.hz;
        double sum = noise_sd * random.normal();
        for (int k = 1; k <= 5; ++k) {
            sum += std::cos(k * 2.0 * std::numbers::pi * (f * t + 0.5 * slope * t * t) + k) / k;
        }
        x[i] = static_cast<float>(sum);
    }
    return x;
}

}  // namespace

TEST_CASE("steady and moving tones are refined to their f0 and slope")
{
    test::Random random{1};
    HarmonicRefiner refiner{kRate, kLength, 1.0};
    for (const double f : {130.8, 220.0, 349.2, 600.0}) {
        for (const double slope : {0.0, 100.0, -200.0}) {
            CAPTURE(f);
            CAPTURE(slope);
            const auto found = refiner.refine(chirp(f, slope, 0.0, random), {1.003 * f}, {3500.0});
            REQUIRE(found);
            CHECK(std::abs(interval_between({f}, found->f0).value) < 0.5);
            CHECK(std::abs(found->slope_hz_per_s - slope) < 20.0);
        }
    }
}

TEST_CASE("the declared error is the spread of f0 over many draws of noise")
{
    test::Random random{2};
    HarmonicRefiner refiner{kRate, kLength, 1.0};
    constexpr int kDraws = 300;
    double square = 0.0;
    double declared = 0.0;
    for (int i = 0; i < kDraws; ++i) {
        const auto found = refiner.refine(chirp(220.0, 0.0, 0.1, random), {220.5}, {3500.0});
        REQUIRE(found);
        square += std::pow(found->f0.value - 220.0, 2.0) / kDraws;
        declared += found->error.value / kDraws;
    }
    // The spread of 300 draws is itself known to 4 %.
    CHECK(declared / std::sqrt(square) == doctest::Approx(1.0).epsilon(0.3));
}

TEST_CASE("silence determines no f0")
{
    HarmonicRefiner refiner{kRate, kLength, 1.0};
    CHECK_FALSE(refiner.refine(std::vector<float>(kLength, 0.0f), {220.0}, {3500.0}));
}
