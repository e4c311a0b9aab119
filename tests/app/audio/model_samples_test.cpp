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

}  // namespace

TEST_CASE("a model is played at the loudspeaker's rate with its pitch, as loud as the tone")
{
    // The samples of sin(2 pi f t) at the new rate, by the formula itself.
    for (const auto& [from, to] : {std::pair{48'000.0, 44'100.0}, std::pair{44'100.0, 48'000.0},
                                   std::pair{16'000.0, 48'000.0}}) {
        CAPTURE(from);
        CAPTURE(to);
        const auto played = model_samples(tone({from}, {349.23}, 0.05f), {to});
        CHECK(static_cast<double>(played.size()) == doctest::Approx(to).epsilon(0.001));
        double worst = 0.0;
        const auto n = static_cast<int>(played.size());
        for (int i = n / 10; i < n * 9 / 10; ++i) {
            const double truth =
                kReferencePeak * std::sin(2.0 * std::numbers::pi * 349.23 * i / to);
            worst = std::max(
                worst, std::abs(static_cast<double>(played[static_cast<std::size_t>(i)]) - truth));
        }
        CHECK(worst < 0.005);  // 40 dB below
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
