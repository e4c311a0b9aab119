#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "app/audio/model_samples.h"
#include "dsp/reference_tone.h"

using namespace holdwell;

namespace {

SoundClip tone(SampleRate rate, Hertz f0, float amplitude)
{
    SoundClip clip{.samples = {}, .rate = rate};
    for (int i = 0; i < static_cast<int>(rate.hz); ++i) {
        const double t = i / rate.hz;
        clip.samples.push_back(static_cast<float>(static_cast<double>(amplitude) *
                                                  std::sin(2.0 * std::numbers::pi * f0.value * t)));
    }
    return clip;
}

std::vector<float> tone_of_reference(SampleRate rate)
{
    return samples_of({.f0 = Hertz{349.23}, .length = Seconds{1.0}, .sample_rate = rate});
}

// Root mean square of the middle half: of what sounds from end to end.
double loudness(const std::vector<float>& samples)
{
    const std::size_t n = samples.size();
    double sum = 0.0;
    for (std::size_t i = n / 4; i < n * 3 / 4; ++i)
        sum += static_cast<double>(samples[i]) * static_cast<double>(samples[i]);
    return std::sqrt(sum / static_cast<double>(n / 2));
}

// A voice of that amplitude with silence around it, and a knock at full scale.
SoundClip knocked(float amplitude)
{
    SoundClip clip = tone({48'000.0}, {349.23}, amplitude);
    clip.samples.insert(clip.samples.begin(), 24'000, 0.0f);
    clip.samples.insert(clip.samples.end(), 24'000, 0.0f);
    for (std::size_t i = 0; i < 200; ++i) clip.samples[1000 + i] = i % 2 == 0 ? 1.0f : -1.0f;
    return clip;
}

}  // namespace

TEST_CASE("a model is as loud as the tone, however softly it was recorded, knock or no knock")
{
    const double wanted = loudness(tone_of_reference({48'000.0}));
    for (const float amplitude : {0.002f, 0.03f, 0.5f}) {
        CAPTURE(amplitude);
        const auto played = model_samples(knocked(amplitude), {48'000.0});
        const std::vector<float> voice{played.begin() + 24'000, played.begin() + 72'000};
        // Within 0.5 dB: what two ears tell apart is about 1 dB (common practice, no source).
        CHECK(20.0 * std::log10(loudness(voice) / wanted) == doctest::Approx(0.0).epsilon(0.5));
        for (const float v : played) REQUIRE(std::abs(v) <= kModelPeak);
    }
}

TEST_CASE("a model is played at the loudspeaker's rate with its pitch")
{
    // The samples of sin(2 pi f t) at the new rate, by the formula itself.
    for (const auto& rates : {std::pair{48'000.0, 44'100.0}, std::pair{44'100.0, 48'000.0},
                              std::pair{16'000.0, 48'000.0}}) {
        const double from = rates.first;
        const double to = rates.second;
        CAPTURE(from);
        CAPTURE(to);
        const auto played = model_samples(tone({from}, {349.23}, 0.05f), {to});
        CHECK(static_cast<double>(played.size()) == doctest::Approx(to).epsilon(0.001));
        double worst = 0.0;
        const auto n = static_cast<int>(played.size());
        // As loud as the tone: a sine's peak is the square root of two above its loudness.
        const double peak = std::sqrt(2.0) * loudness(tone_of_reference({to}));
        for (int i = n / 10; i < n * 9 / 10; ++i) {
            const double truth = peak * std::sin(2.0 * std::numbers::pi * 349.23 * i / to);
            worst = std::max(
                worst, std::abs(static_cast<double>(played[static_cast<std::size_t>(i)]) - truth));
        }
        CHECK(worst < 0.01 * peak);  // 40 dB below
    }
}

TEST_CASE("a model begins and ends softly, and silence stays silence")
{
    const auto played = model_samples(tone({48'000.0}, {220.0}, 0.9f), {48'000.0});
    CHECK(played.front() == 0.0f);
    CHECK(std::abs(played.back()) < 0.001f);
    const SoundClip silence{.samples = std::vector<float>(4800), .rate = {48'000.0}};
    const auto nothing = model_samples(silence, {48'000.0});
    CHECK(std::ranges::all_of(nothing, [](float v) { return v == 0.0f; }));
    CHECK(model_samples({}, {48'000.0}).empty());
}
