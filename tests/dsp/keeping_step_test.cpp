// Whether lines keep step, by arithmetic; and pitch made even, by the formula of a vibrato.

#include "dsp/keeping_step.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "dsp/even_pitch.h"
#include "dsp/spectrum.h"

using namespace holdwell;

namespace {

constexpr StepLimits kLimits{.resolution = {7.8}, .uncertainty = {0.0}};

struct Placed {
    double multiple;
    double cents{0.0};
};

std::optional<Steps> steps_at(const std::vector<Placed>& placed, const StepLimits& limits = kLimits)
{
    std::vector<Line> lines;
    for (const Placed& p : placed)
        lines.push_back({transposed({p.multiple * 200.0}, {p.cents}), 1.0, 0.0});
    return steps_of(lines, {200.0}, limits);
}

}  // namespace

TEST_CASE("the partials of one voice keep step, rough or not, and wherever f0 was read")
{
    const auto plain = steps_at({{1}, {2}, {3}, {4}, {5}});
    REQUIRE(plain);
    CHECK(plain->farthest.value < 0.01);
    CHECK(plain->shared.value < 0.01);
    const auto rough = steps_at({{1}, {1.5}, {2}, {2.5}, {3}});
    REQUIRE(rough);
    CHECK(rough->farthest.value < 0.01);
    // All of them 6 cents over what f0 was read to be: in step with one another.
    const auto off = steps_at({{1, 6}, {2, 6}, {3, 6}, {4, 6}});
    REQUIRE(off);
    CHECK(off->farthest.value < 0.01);
}

TEST_CASE("a partial that a second voice pulls aside is out of step, and shared with it")
{
    // An octave above, 12 cents sharp: the even multiples follow it.
    const auto octave = steps_at({{1}, {2, 12}, {3}, {4, 12}, {5}});
    REQUIRE(octave);
    CHECK(octave->farthest.value == doctest::Approx(12.0).epsilon(0.01));
    CHECK(octave->shared.value == doctest::Approx(12.0).epsilon(0.01));
    // A fifth above: half-way between the 1st and 2nd, and every third.
    const auto fifth = steps_at({{1}, {1.5, 12}, {2}, {3, 12}, {4}});
    REQUIRE(fifth);
    CHECK(fifth->shared.value == doctest::Approx(12.0).epsilon(0.01));
    // Echoes put everything out of step: nobody keeps it.
    const auto echo = steps_at({{1, 9}, {2, -7}, {3, -11}, {4, 6}, {5, 2}});
    REQUIRE(echo);
    CHECK(echo->farthest.value > 8.0);
    CHECK(echo->shared.value == 0.0);
}

TEST_CASE("what noise or movement makes uncertain is not held against a partial")
{
    // Noise 20 dB below the line: half a bin of 7.8 Hz times 0.1 is 0.39 Hz, at 400 Hz 1.7 cents.
    const std::vector<Line> noisy{{{200.0}, 1.0, 0.0},
                                  {transposed({400.0}, {12.0}), 1.0, 0.01},
                                  {{600.0}, 1.0, 0.0},
                                  {{1000.0}, 1.0, 0.0}};
    const auto steps = steps_of(noisy, {200.0}, kLimits);
    REQUIRE(steps);
    CHECK(steps->farthest.value == doctest::Approx(12.0 - 2.0 * 1.68).epsilon(0.03));
    // f0 uncertain by 3 Hz blurs the 4th multiple by more than a bin and a half (11.7 Hz).
    const auto moving =
        steps_at({{1}, {2}, {3}, {4, 12}}, {.resolution = {7.8}, .uncertainty = {3.0}});
    REQUIRE(moving);
    CHECK(moving->farthest.value < 0.01);
    CHECK_FALSE(steps_at({}));
    CHECK_FALSE(steps_at({{1}}));
    // Two at one place, nearly as strong: blurred, so only one is left.
    CHECK_FALSE(steps_at({{1}, {2, -14}, {2, 14}}));
}

TEST_CASE("pitch made even leaves nothing of a vibrato of 100 cents")
{
    // Ten partials of 220 Hz swaying by +-100 cents at 5.5 Hz; cycles summed sample by sample.
    constexpr SampleRate kRate{8'000.0};
    constexpr std::size_t kN = 1024;
    const auto f0_at = [](double sample) {
        const double sway = std::sin(2.0 * std::numbers::pi * 5.5 * sample / kRate.hz);
        return 220.0 * std::exp2(100.0 / 1200.0 * sway);
    };
    std::vector<float> x(kN);
    double cycles = 0.0;
    for (std::size_t i = 0; i < kN; ++i) {
        double sum = 0.0;
        for (int h = 1; h <= 10; ++h) sum += std::cos(2.0 * std::numbers::pi * h * cycles) / h;
        x[i] = static_cast<float>(sum);
        cycles += f0_at(static_cast<double>(i) + 0.5) / kRate.hz;
    }
    std::vector<double> readings;  // every 10 ms, from 160 samples before the first
    for (int k = -2; k < 14; ++k) readings.push_back(f0_at(80.0 * k));
    std::vector<float> even(kN);
    std::vector<double> room(kN);
    const Hertz f0 =
        make_pitch_even(x, {.hz = readings, .first = -160.0, .step = 80.0}, kRate, {even, room});
    CHECK(std::abs(interval_between(f0, {cycles / kN * kRate.hz}).value) < 1.0);

    // The same ten partials without any movement, at the mean. What the cubic loses near a quarter
    // of the rate leaves them alike to 10 % of their strength.
    double difference = 0.0, all = 0.0;
    for (std::size_t i = 0; i < kN; ++i) {
        double sum = 0.0;
        for (int h = 1; h <= 10; ++h)
            sum += std::cos(2.0 * std::numbers::pi * h * f0.value * static_cast<double>(i) /
                            kRate.hz) /
                   h;
        difference += (even[i] - sum) * (even[i] - sum);
        all += sum * sum;
    }
    CHECK(difference < 0.01 * all);
}
