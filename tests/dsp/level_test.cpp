#include "dsp/level.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

using namespace holdwell;

namespace {

constexpr double kRate = 48'000.0;
constexpr std::size_t kHop = 480;

std::vector<float> sine(double hz, double amplitude, std::size_t samples)
{
    std::vector<float> x(samples);
    for (std::size_t i = 0; i < samples; ++i) {
        const double t = static_cast<double>(i) / kRate;
        x[i] = static_cast<float>(amplitude * std::sin(2.0 * std::numbers::pi * hz * t));
    }
    return x;
}

// What is read once the filters have settled: after half a second.
LevelReading settled(const std::vector<float>& x)
{
    VoiceBandLevel meter{AnalysisConfig{}};
    LevelReading reading;
    const std::span<const float> all{x};
    for (std::size_t i = 0; i + kHop <= x.size(); i += kHop) {
        reading = meter.push(all.subspan(i, kHop));
    }
    return reading;
}

int clipped_in(const std::vector<float>& hop)
{
    return VoiceBandLevel{AnalysisConfig{}}.push(hop).clipped_samples;
}

std::vector<float> with_run(std::size_t at, std::size_t length, float value)
{
    std::vector<float> x(kHop, 0.0f);
    std::fill_n(x.begin() + static_cast<std::ptrdiff_t>(at), length, value);
    return x;
}

}  // namespace

TEST_CASE("a full-scale sine in the voice band reads -3.01 dBFS, and a softer one as much less")
{
    struct Row {
        double hz;
        double amplitude;
        double dbfs;  // 20 log10(amplitude / sqrt 2)
    };
    constexpr std::array<Row, 4> kRows{{{1000.0, 1.0, -3.0103},
                                        {400.0, 1.0, -3.0103},
                                        {1000.0, 0.1, -23.0103},
                                        {1000.0, 0.001, -63.0103}}};
    for (const Row& row : kRows) {
        CAPTURE(row.hz);
        const LevelReading reading = settled(sine(row.hz, row.amplitude, 24'000));
        CHECK(std::abs(reading.hop.value - row.dbfs) < 0.05);
        CHECK(std::abs(reading.window.value - row.dbfs) < 0.05);
        for (const float q : reading.quarter_power) {
            CHECK(q == doctest::Approx(row.amplitude * row.amplitude / 2.0).epsilon(0.15));
        }
    }
}

TEST_CASE("the voice band's edges are those of second-order Butterworth filters")
{
    // |H|^2 = 1 / (1 + (f / fc)^4), and its mirror for the high pass; at the corner -3.01 dB. Below
    // 2 kHz the bilinear transform does not show.
    for (const double hz : {30.0, 50.0, 70.0, 100.0, 200.0}) {
        CAPTURE(hz);
        const double expected = -3.0103 - 10.0 * std::log10(1.0 + std::pow(70.0 / hz, 4.0));
        VoiceBandLevel meter{AnalysisConfig{}};
        const std::vector<float> x = sine(hz, 1.0, 48'000);
        double mean = 0.0;  // over the last half second: whole periods of each
        for (std::size_t i = 0; i < x.size(); i += kHop) {
            const LevelReading r = meter.push(std::span<const float>{x}.subspan(i, kHop));
            if (i >= x.size() / 2) mean += mean_square_of(r.hop) / 50.0;
        }
        CHECK(std::abs(level_of(mean).value - expected) < 0.1);
    }
    CHECK(std::abs(settled(sine(8000.0, 1.0, 24'000)).hop.value + 6.02) < 0.1);
    CHECK(settled(sine(16'000.0, 1.0, 24'000)).hop.value < -15.0);
    CHECK(settled(std::vector<float>(24'000, 1.0f)).hop.value < -100.0);  // no direct current
}

TEST_CASE("samples at full scale count as clipped from three in a row")
{
    CHECK(clipped_in(with_run(100, 1, 1.0f)) == 0);
    CHECK(clipped_in(with_run(100, 2, 1.0f)) == 0);
    CHECK(clipped_in(with_run(100, 3, 1.0f)) == 3);
    CHECK(clipped_in(with_run(100, 7, -1.0f)) == 7);
    CHECK(clipped_in(with_run(100, 50, 0.99f)) == 0);
    CHECK(clipped_in(std::vector<float>(kHop, 1.0f)) == 480);
}

TEST_CASE("a clipped run that crosses from one hop to the next is counted whole")
{
    VoiceBandLevel meter{AnalysisConfig{}};
    const int first = meter.push(with_run(kHop - 2, 2, 1.0f)).clipped_samples;
    const int second = meter.push(with_run(0, 4, 1.0f)).clipped_samples;
    CHECK(first + second == 6);
}
