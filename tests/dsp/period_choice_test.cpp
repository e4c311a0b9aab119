#include "dsp/period_choice.h"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

#include "tests/support/random.h"

using namespace holdwell;

namespace {

constexpr SampleRate kRate{8000.0};
constexpr std::size_t kLength = 298;
constexpr std::size_t kHop = 80;
constexpr F0Range kRange{{60.0}, {1100.0}};

using Amplitude = std::function<double(int harmonic)>;

// Frames of a tone with six harmonics; noise is added to each sample.
class Tone {
public:
    Tone(double f0_hz, Amplitude amplitude) : f0_hz_{f0_hz}, amplitude_{std::move(amplitude)} {}

    std::vector<float> frame(std::size_t number) const
    {
        std::vector<float> x(kLength);
        for (std::size_t i = 0; i < kLength; ++i) {
            const double t_s = static_cast<double>(number * kHop + i) / kRate.hz;
            double sum = 0.0;
            for (int k = 1; k <= 6; ++k) {
                sum += amplitude_(k) * std::cos(2.0 * std::numbers::pi * k * f0_hz_ * t_s + k);
            }
            x[i] = static_cast<float>(sum);
        }
        return x;
    }

private:
    double f0_hz_;
    Amplitude amplitude_;
};

PeriodChoice::Choice choice_after(const std::function<std::vector<float>(std::size_t)>& frame_at,
                                  Decibels over_room = {40.0})
{
    PeriodChoice choice{kRate, kLength, kRange, 0.35};
    PeriodChoice::Choice last;
    for (std::size_t k = 0; k < 8; ++k) {
        const std::vector<float> x = frame_at(k);
        last = choice.push({x, x}, NoiseColour{}, over_room);
    }
    return last;
}

PeriodChoice::Choice choice_of(double f0_hz, const Amplitude& amplitude)
{
    const Tone tone{f0_hz, amplitude};
    return choice_after([&](std::size_t k) { return tone.frame(k); });
}

void check_found(const PeriodChoice::Choice& choice, double f0_hz)
{
    CAPTURE(f0_hz);
    REQUIRE(choice.f0);
    CHECK(choice.voiced);
    CHECK(choice.f0->value == doctest::Approx(f0_hz).epsilon(0.01));
}

}  // namespace

TEST_CASE("falling harmonics are found at their f0 over the whole range")
{
    for (const double f0 : {70.0, 110.0, 220.0, 349.2, 700.0, 1000.0}) {
        check_found(choice_of(f0, [](int k) { return 1.0 / k; }), f0);
    }
}

TEST_CASE("one strong harmonic is not taken for the voice")
{
    for (const int strong : {2, 3}) {
        CAPTURE(strong);
        const auto amplitude = [&](int k) { return k == strong ? 1.0 : 0.15; };
        for (const double f0 : {130.0, 200.0, 330.0}) check_found(choice_of(f0, amplitude), f0);
    }
}

TEST_CASE("cycles that alternate by a tenth are one period each")
{
    // Odd lines of half the frequency, a tenth of their neighbours.
    for (const double f0 : {160.0, 220.0, 349.2}) {
        const auto pairs = [](int k) { return (k % 2 == 0 ? 1.0 : 0.1) / (1 + k / 2); };
        check_found(choice_of(0.5 * f0, pairs), f0);
    }
}

TEST_CASE("noise is not voiced, and a tone no louder than the room is the room")
{
    test::Random random{4};
    const auto noise = [&](std::size_t) {
        std::vector<float> x(kLength);
        for (float& v : x) v = static_cast<float>(random.normal());
        return x;
    };
    CHECK_FALSE(choice_after(noise).voiced);
    const Tone tone{220.0, [](int k) { return 1.0 / k; }};
    const auto tone_at = [&](std::size_t k) { return tone.frame(k); };
    CHECK(choice_after(tone_at, Decibels{20.0}).voiced);
    CHECK_FALSE(choice_after(tone_at, Decibels{0.0}).voiced);
}

TEST_CASE("silence has no period")
{
    const auto silence = [](std::size_t) { return std::vector<float>(kLength, 0.0f); };
    const PeriodChoice::Choice choice = choice_after(silence);
    CHECK_FALSE(choice.f0);
    CHECK_FALSE(choice.voiced);
}

TEST_CASE("a voice that was learnt as noise is heard all the same")
{
    // Nearly all of it is its fundamental: what whitening leaves of it is a voice at three times
    // f0.
    const Tone learnt{261.6, [](int k) { return k == 1 ? 1.0 : 0.0; }};
    const Tone tone{261.6, [](int k) { return k == 1 ? 1.0 : (k == 3 ? 0.1 : 0.0); }};
    NoiseColour colour;
    for (std::size_t k = 0; k < 10; ++k) colour.add(learnt.frame(k), {0.5});
    PeriodChoice choice{kRate, kLength, kRange, 0.35};
    for (std::size_t k = 10; k < 14; ++k) {
        const std::vector<float> before = tone.frame(k - 1);
        const std::vector<float> x = tone.frame(k);
        std::vector<float> both(before.begin() + kHop - NoiseColour::kOrder, before.begin() + kHop);
        both.insert(both.end(), x.begin(), x.end());
        std::vector<float> white(kLength);
        colour.whiten(both, white);
        check_found(choice.push({x, white}, colour, Decibels{40.0}), 261.6);
    }
}
