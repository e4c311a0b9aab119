#include "dsp/decimator.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

using namespace holdwell;

namespace {

std::vector<float> decimated(Decimator& decimator, double hz, SampleRate rate)
{
    std::vector<float> x(static_cast<std::size_t>(rate.hz / 2.0));
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double turns = hz * static_cast<double>(i) / rate.hz;
        x[i] = static_cast<float>(std::sin(2.0 * std::numbers::pi * turns));
    }
    std::vector<float> y(x.size() / decimator.factor() + 1);
    y.resize(decimator.push(x, y));
    return y;
}

// RMS after the filter has filled, in dB against that of the unit sine that went in.
double gain_db(const std::vector<float>& y)
{
    double sum = 0.0;
    for (std::size_t i = 200; i < y.size(); ++i) sum += static_cast<double>(y[i]) * y[i];
    return 10.0 * std::log10(2.0 * sum / static_cast<double>(y.size() - 200) + 1e-30);
}

}  // namespace

TEST_CASE("the lower rate is 8 kHz or a little more, by whole factors")
{
    struct Row {
        double rate;
        std::size_t factor;  // floor(rate / 8000)
    };
    constexpr std::array<Row, 6> kRows{
        {{8000.0, 1}, {16'000.0, 2}, {22'050.0, 2}, {44'100.0, 5}, {48'000.0, 6}, {96'000.0, 12}}};
    for (const Row& row : kRows) {
        CAPTURE(row.rate);
        const Decimator decimator{SampleRate{row.rate}};
        CHECK(decimator.factor() == row.factor);
        CHECK(decimator.output_rate().hz ==
              doctest::Approx(row.rate / static_cast<double>(row.factor)));
    }
}

TEST_CASE("the voice passes up to 3.5 kHz, and what would fold back onto it does not")
{
    for (const double rate : {44'100.0, 48'000.0, 96'000.0}) {
        CAPTURE(rate);
        Decimator decimator{SampleRate{rate}};
        for (const double hz : {100.0, 349.2, 1000.0, 2000.0, 3000.0}) {
            CAPTURE(hz);
            decimator.reset();
            CHECK(std::abs(gain_db(decimated(decimator, hz, {rate}))) < 0.1);
        }
        // About every multiple of the lower rate, as far as what folds to below 3.5 kHz.
        const double low_rate = decimator.output_rate().hz;
        for (const double hz :
             {low_rate - 3400.0, low_rate - 1000.0, low_rate + 1000.0, 2.0 * low_rate - 3000.0}) {
            CAPTURE(hz);
            decimator.reset();
            CHECK(gain_db(decimated(decimator, hz, {rate})) < -50.0);
        }
    }
}

TEST_CASE("a pulse comes out after the delay that is declared")
{
    Decimator decimator{SampleRate{48'000.0}};
    std::vector<float> x(960, 0.0f);
    // Outputs fall on input samples 5, 11, 17 ..: the pulse is put where its middle meets one.
    const std::size_t middle = 299;
    x[middle - static_cast<std::size_t>(decimator.delay().value)] = 1.0f;
    std::vector<float> y(200);
    const std::size_t n = decimator.push(x, y);
    CHECK(n == 160);
    std::size_t peak = 0;
    for (std::size_t i = 0; i < n; ++i) {
        if (y[i] > y[peak]) peak = i;
    }
    CHECK(peak * 6 + 5 == middle);
    CHECK(y[peak - 1] == doctest::Approx(y[peak + 1]));  // linear phase
}
