#include "dsp/a_weighting.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

using namespace holdwell;

namespace {

// Two seconds of a sine of mean square 1 / 2.
std::vector<float> sine(Hertz f, SampleRate rate)
{
    std::vector<float> x(static_cast<std::size_t>(2.0 * rate.hz));
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double turns = f.value * static_cast<double>(i) / rate.hz;
        x[i] = static_cast<float>(std::sin(2.0 * std::numbers::pi * turns));
    }
    return x;
}

// Of the second of the two, when the filter has settled.
Decibels response(Hertz f, SampleRate rate)
{
    std::optional<AWeighting> filter = AWeighting::at(rate);
    REQUIRE(filter);
    const std::vector<float> x = sine(f, rate);
    const std::span<const float> all{x};
    (void)filter->push(all.first(x.size() / 2));
    return level_of(filter->push(all.last(x.size() / 2))) - level_of(0.5);
}

// IEC 61672-1:2013, annex E, equation E.6: the four pole frequencies and 2.000 dB at 1 kHz.
double curve_db(double f)
{
    constexpr double f1 = 20.60, f2 = 107.7, f3 = 737.9, f4 = 12194.0;
    const double ff = f * f;
    const double gain =
        f4 * f4 * ff * ff /
        ((ff + f1 * f1) * std::sqrt(ff + f2 * f2) * std::sqrt(ff + f3 * f3) * (ff + f4 * f4));
    return 20.0 * std::log10(gain) + 2.0;
}

}  // namespace

TEST_CASE("the A-weighting keeps to the standard's class 1 from 31.5 Hz to 16 kHz")
{
    struct Row {
        int octave;        // from 1 kHz: f = 1000 * 10^(0.3 octave), the standard's exact frequency
        double weight_db;  // IEC 61672-1:2013, table 3
        double above, below;  // the same, acceptance limits of class 1; limits from memory
    };
    constexpr std::array<Row, 10> kRows{{{-5, -39.4, 1.5, 1.5},
                                         {-4, -26.2, 1.0, 1.0},
                                         {-3, -16.1, 1.0, 1.0},
                                         {-2, -8.6, 1.0, 1.0},
                                         {-1, -3.2, 1.0, 1.0},
                                         {0, 0.0, 0.7, 0.7},
                                         {1, 1.2, 1.0, 1.0},
                                         {2, 1.0, 1.0, 1.0},
                                         {3, -1.1, 1.5, 2.5},
                                         {4, -6.6, 2.5, 16.0}}};
    for (const double rate_hz : {44'100.0, 48'000.0}) {
        for (const Row& row : kRows) {
            const Hertz f{1000.0 * std::pow(10.0, 0.3 * row.octave)};
            CAPTURE(rate_hz);
            CAPTURE(f.value);
            const double off = response(f, {rate_hz}).value - row.weight_db;
            CHECK(off <= row.above);
            CHECK(off >= -row.below);
        }
    }
}

TEST_CASE("below 3 kHz, where rooms have their noise, the A-weighting is the curve itself")
{
    for (const double rate_hz : {44'100.0, 48'000.0}) {
        for (const double f_hz : {50.0, 100.0, 200.0, 440.0, 1000.0, 1800.0, 3000.0}) {
            CAPTURE(rate_hz);
            CAPTURE(f_hz);
            CHECK(std::abs(response({f_hz}, {rate_hz}).value - curve_db(f_hz)) < 0.15);
        }
    }
}

TEST_CASE("a rate without a filter has no A-weighted level")
{
    CHECK_FALSE(AWeighting::at({22'050.0}));  // half of the curve would be missing
    CHECK_FALSE(AWeighting::at({47'000.0}));
    CHECK(AWeighting::at({192'000.0}));
}

TEST_CASE("samples that are no numbers do not spoil the A-weighted level")
{
    std::optional<AWeighting> filter = AWeighting::at({48'000.0});
    REQUIRE(filter);
    const std::vector<float> nonsense(480, std::numeric_limits<float>::quiet_NaN());
    CHECK(filter->push(nonsense) == 0.0);
    const std::vector<float> x = sine({1000.0}, {48'000.0});
    (void)filter->push(std::span{x}.first(x.size() / 2));
    CHECK(std::abs(level_of(filter->push(x)).value + 3.01) < 0.1);
    CHECK(filter->push({}) == 0.0);
}
