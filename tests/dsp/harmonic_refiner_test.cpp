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

// A frame of which nothing is known about the noise.
FramePair both(const std::vector<float>& x) { return {x, x}; }

// phi(t) = 2 pi (f t + s t^2 / 2 + c t^3 / 6) about the middle; lines 1 / k.
struct Chirp {
    double f_hz;
    double slope_hz_s{0.0};
    double bend_hz_s2{0.0};
    double noise_sd{0.0};
};
std::vector<float> chirp(const Chirp& c, test::Random& random)
{
    std::vector<float> x(kLength);
    for (std::size_t i = 0; i < kLength; ++i) {
        const double t = (static_cast<double>(i) - (kLength - 1.0) / 2.0) / kRate.hz;
        const double cycles = t * (c.f_hz + t * (c.slope_hz_s / 2.0 + t * c.bend_hz_s2 / 6.0));
        double sum = c.noise_sd * random.normal();
        for (int k = 1; k <= 5; ++k) {
            sum += std::cos(k * 2.0 * std::numbers::pi * cycles + k) / k;
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
            const auto x = chirp({.f_hz = f, .slope_hz_s = slope}, random);
            const auto found = refiner.refine(both(x), {1.003 * f}, {3500.0});
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
        const auto x = chirp({.f_hz = 220.0, .noise_sd = 0.1}, random);
        const auto found = refiner.refine(both(x), {220.5}, {3500.0});
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
    const std::vector<float> silence(kLength, 0.0f);
    CHECK_FALSE(refiner.refine(both(silence), {220.0}, {3500.0}));
}

TEST_CASE("f0 is the mean over 40 ms, also where it bends")
{
    test::Random random{3};
    HarmonicRefiner refiner{kRate, kLength, 0.35};
    // The crest of a vibrato of 5.5 Hz and 50 cents: f'' = f ln 2 / 24 (2 pi 5.5)^2.
    for (const double f : {150.0, 349.2}) {
        CAPTURE(f);
        const double bend =
            -f * std::numbers::ln2 / 24.0 * std::pow(2.0 * std::numbers::pi * 5.5, 2);
        const auto x = chirp({.f_hz = f, .bend_hz_s2 = bend}, random);
        // It takes some frames to know that a voice is uneven.
        for (int frame = 0; frame < 5; ++frame) refiner.refine(both(x), {f}, {3500.0});
        const auto found = refiner.refine(both(x), {f}, {3500.0});
        REQUIRE(found);
        // The mean of c t^2 / 2 over T is c T^2 / 24.
        const Hertz mean{f + bend * 0.040 * 0.040 / 24.0};
        CHECK(std::abs(interval_between({f}, mean).value) > 3.0);
        CHECK(std::abs(interval_between(mean, found->f0).value) < 0.3);
    }
}

TEST_CASE("the residual is that of the frame as heard, whatever f0 was fitted to")
{
    test::Random random{4};
    HarmonicRefiner refiner{kRate, kLength, 0.35};
    const auto noisy = chirp({.f_hz = 220.0, .noise_sd = 0.4}, random);
    const auto clean = chirp({.f_hz = 220.0}, random);
    const auto found = refiner.refine({noisy, clean}, {220.3}, {3500.0});
    REQUIRE(found);
    CHECK(std::abs(interval_between({220.0}, found->f0).value) < 0.05);
    // Power of the lines: (1 + 1/4 + 1/9 + 1/16 + 1/25) / 2 = 0.732; of the noise 0.16, of which
    // 30 of 296 dimensions are fitted.
    CHECK(found->residual == doctest::Approx(0.16 * 266.0 / 296.0 / 0.892).epsilon(0.2));
    REQUIRE(refiner.left_over().size() == kLength);
}
