#include "dsp/noise_colour.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "tests/support/random.h"

using namespace holdwell;

namespace {

constexpr std::size_t kLength = 296;

// x[n] = 1.6 x[n-1] - 0.81 x[n-2] + e[n]: a resonance at a 13th of the rate, 20 dB over its valley.
std::vector<float> coloured_noise(std::size_t length, test::Random& random)
{
    std::vector<float> x(length, 0.0f);
    double last = 0.0;
    double before = 0.0;
    for (std::size_t i = 0; i < length + 100; ++i) {
        const double now = 1.6 * last - 0.81 * before + random.normal();
        before = last;
        last = now;
        if (i >= 100) x[i - 100] = static_cast<float>(now);
    }
    return x;
}

double power_of(std::span<const float> x)
{
    double sum = 0.0;
    for (const float v : x) sum += static_cast<double>(v) * static_cast<double>(v);
    return sum / static_cast<double>(x.size());
}

double correlation_at(std::span<const float> x, std::size_t lag)
{
    double sum = 0.0;
    for (std::size_t i = lag; i < x.size(); ++i) {
        sum += static_cast<double>(x[i]) * static_cast<double>(x[i - lag]);
    }
    return sum / static_cast<double>(x.size()) / power_of(x);
}

NoiseColour learnt(test::Random& random)
{
    NoiseColour colour;
    for (int frame = 0; frame < 20; ++frame) {
        const auto x = coloured_noise(kLength, random);
        colour.add(x, {power_of(x)});
    }
    return colour;
}

}  // namespace

TEST_CASE("noise of a second-order recursion comes out white, with the power of what drove it")
{
    test::Random random{1};
    const NoiseColour colour = learnt(random);
    const auto x = coloured_noise(20'000, random);
    std::vector<float> white(x.size() - NoiseColour::kOrder);
    colour.whiten(x, white);
    // Theory: r(1) / r(0) = 1.6 / 1.81 (Yule and Walker), and the innovation has power 1.
    CHECK(correlation_at(x, 1) == doctest::Approx(1.6 / 1.81).epsilon(0.02));
    for (std::size_t lag = 1; lag <= 12; ++lag) {
        CAPTURE(lag);
        CHECK(std::abs(correlation_at(white, lag)) < 0.15);
    }
    CHECK(power_of(white) == doctest::Approx(1.0).epsilon(0.15));
}

TEST_CASE("what repeats goes on repeating when it is whitened")
{
    test::Random random{2};
    const NoiseColour colour = learnt(random);
    constexpr std::size_t kPeriod = 40;
    std::vector<float> x(kLength + NoiseColour::kOrder);
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double turn = 2.0 * std::numbers::pi * static_cast<double>(i) / kPeriod;
        x[i] = static_cast<float>(std::cos(turn) + 0.3 * std::cos(3.0 * turn));
    }
    std::vector<float> white(kLength);
    colour.whiten(x, white);
    REQUIRE(power_of(white) > 1e-4);
    for (std::size_t i = kPeriod; i < kLength; ++i) {
        CHECK(std::abs(white[i] - white[i - kPeriod]) < 1e-4f);
    }
}

TEST_CASE("without noise, or after a reset, a frame is left as it is")
{
    test::Random random{3};
    const auto x = coloured_noise(kLength + NoiseColour::kOrder, random);
    const auto frame = std::span{x}.last(kLength);
    std::vector<float> white(kLength);
    SUBCASE("nothing was heard") { NoiseColour{}.whiten(x, white); }
    SUBCASE("silence was heard")
    {
        NoiseColour colour;
        colour.add(std::vector<float>(kLength, 0.0f), {0.0});
        colour.whiten(x, white);
    }
    SUBCASE("a fit left nothing over of a loud frame")
    {
        NoiseColour colour;
        colour.add(std::vector<float>(kLength, 0.0f), {1.0});
        colour.whiten(x, white);
    }
    SUBCASE("it was reset")
    {
        NoiseColour colour = learnt(random);
        colour.reset();
        colour.whiten(x, white);
    }
    for (std::size_t i = 0; i < kLength; ++i) CHECK(white[i] == frame[i]);
}

TEST_CASE("what a fast movement leaves over colours less")
{
    test::Random random{5};
    NoiseColour steady;
    NoiseColour moving;
    for (int frame = 0; frame < 20; ++frame) {
        const auto x = coloured_noise(kLength, random);
        // Noise 20 dB below the voice, which moves by a fifth of an octave in a frame.
        steady.add(x, {100.0 * power_of(x)});
        moving.add(x, {100.0 * power_of(x), 0.2});
    }
    const auto x = coloured_noise(20'000, random);
    std::vector<float> white(x.size() - NoiseColour::kOrder);
    steady.whiten(x, white);
    const double left_by_steady = std::abs(correlation_at(white, 1));
    moving.whiten(x, white);
    CHECK(left_by_steady < 0.3);
    CHECK(std::abs(correlation_at(white, 1)) > 1.5 * left_by_steady);
}

TEST_CASE("the gain at a frequency is what whitening makes of a tone there")
{
    test::Random random{6};
    const NoiseColour colour = learnt(random);
    for (const double turns : {0.02, 1.0 / 13.0, 0.2, 0.45}) {
        CAPTURE(turns);
        const double step = 2.0 * std::numbers::pi * turns;
        std::vector<float> x(4000 + NoiseColour::kOrder);
        for (std::size_t i = 0; i < x.size(); ++i) {
            x[i] = static_cast<float>(std::cos(step * static_cast<double>(i)));
        }
        std::vector<float> white(4000);
        colour.whiten(x, white);
        const double gain = power_of(white) / power_of(x);
        CHECK(colour.power_gain(step) == doctest::Approx(gain).epsilon(0.01));
    }
    CHECK(NoiseColour{}.power_gain(1.0) == 1.0);
}
