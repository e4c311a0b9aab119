// The estimator's spread in white noise against the least that any unbiased estimator can have.

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "tests/bench/pitch_method.h"
#include "tests/support/cramer_rao.h"
#include "tests/support/random.h"

namespace holdwell {

namespace {

constexpr SampleRate kRate{48'000.0};
constexpr SampleRate kBandRate{16'000.0};  // the ratio is stated in 0 .. 8 kHz

std::vector<float> tone_in_white_noise(const test::HarmonicTone& tone, Decibels snr)
{
    constexpr double kTurn = 2.0 * std::numbers::pi;
    test::Random random{static_cast<std::uint64_t>(1000.0 + snr.value)};
    double power = 0.0;
    for (const double a : tone.amplitudes) power += 0.5 * a * a;
    const double sigma = std::sqrt(power * kRate.hz / kBandRate.hz) / gain_of(snr);
    std::vector<float> x(static_cast<std::size_t>(samples_in(20s, kRate).value));
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double angle = kTurn * tone.f0.value * static_cast<double>(i) / kRate.hz;
        double sum = sigma * random.normal();
        for (std::size_t k = 0; k < tone.amplitudes.size(); ++k) {
            const auto order = static_cast<double>(k + 1);
            sum += tone.amplitudes[k] * std::cos(order * angle + order * order);
        }
        x[i] = static_cast<float>(0.05 * sum);
    }
    return x;
}

double rms_error_cents(const test::HarmonicTone& tone, Decibels snr)
{
    const auto x = tone_in_white_noise(tone, snr);
    const auto course = bench::estimates_of(bench::method_kinds().front(), x, kRate);
    double squares = 0.0;
    for (std::size_t k = 50; k < course.size(); ++k) {
        REQUIRE(course[k].f0);
        const double c = interval_between(tone.f0, *course[k].f0).value;
        squares += c * c;
    }
    return std::sqrt(squares / static_cast<double>(course.size() - 50));
}

}  // namespace

TEST_CASE("the bound agrees with its closed form for a single sine")
{
    // S. M. Kay, "Fundamentals of Statistical Signal Processing: Estimation Theory", 1993, example
    // 3.14: var(f) >= 12 / ((2 pi)^2 eta N (N^2 - 1)) in cycles a sample, eta = A^2 / (2 sigma^2),
    // for N large and f away from 0 and 1/2.
    const test::HarmonicTone sine{Hertz{1000.0}, {1.0}};
    const double samples = 0.040 * kBandRate.hz;
    const double sd_hz = std::sqrt(
        12.0 / (4.0 * std::numbers::pi * std::numbers::pi * 0.040 * 0.040 * 100.0 * samples));
    const double expected = interval_between(sine.f0, Hertz{sine.f0.value + sd_hz}).value;
    const Cents bound = test::f0_bound(sine, 40ms, kBandRate, Decibels{20.0});
    CHECK(bound.value == doctest::Approx(expected).epsilon(0.02));
}

TEST_CASE("the spread in white noise is within 1.3 times the Cramer-Rao bound, 40 to 10 dB")
{
    const auto tone = test::tone_with_falling_harmonics(Hertz{349.23}, 10);
    for (const double snr_db : {40.0, 30.0, 20.0, 10.0}) {
        CAPTURE(snr_db);
        const double bound = test::f0_bound(tone, 40ms, kBandRate, Decibels{snr_db}).value;
        const double found = rms_error_cents(tone, Decibels{snr_db});
        CHECK(found <= 1.3 * bound);
        // Below the bound by more than its own uncertainty would mean that the test is wrong.
        CHECK(found >= 0.9 * bound);
    }
}

TEST_CASE("the spread in white noise at 0 dB is within 1.5 times the Cramer-Rao bound")
{
    const auto tone = test::tone_with_falling_harmonics(Hertz{349.23}, 10);
    const double bound = test::f0_bound(tone, 40ms, kBandRate, Decibels{0.0}).value;
    CHECK(rms_error_cents(tone, Decibels{0.0}) <= 1.5 * bound);
}

}  // namespace holdwell
