#include "app/audio/model_samples.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>

#include "dsp/reference_tone.h"

namespace holdwell {

namespace {

constexpr double kCrossings = 16.0;
constexpr Seconds kFade{10ms};

double windowed_sinc(double x)
{
    if (std::abs(x) >= kCrossings) return 0.0;
    const double turn = std::numbers::pi * x;
    const double sinc = x == 0.0 ? 1.0 : std::sin(turn) / turn;
    return sinc * (0.5 + 0.5 * std::cos(turn / kCrossings));
}

// `at` in samples of `from`; `cutoff` in parts of its rate, at most 1.
double sample_at(const std::vector<float>& from, double at, double cutoff)
{
    const double reach = kCrossings / cutoff;
    const auto size = static_cast<std::int64_t>(from.size());
    const auto first = std::max<std::int64_t>(0, std::llround(std::ceil(at - reach)));
    const auto last = std::min<std::int64_t>(size - 1, std::llround(std::floor(at + reach)));
    double sum = 0.0;
    for (std::int64_t i = first; i <= last; ++i) {
        sum += static_cast<double>(from[static_cast<std::size_t>(i)]) *
               windowed_sinc((static_cast<double>(i) - at) * cutoff);
    }
    return sum * cutoff;
}

std::vector<float> at_rate(const SoundClip& clip, SampleRate rate)
{
    if (clip.rate == rate) return clip.samples;
    const double step = clip.rate.hz / rate.hz;
    const double cutoff = std::min(1.0, 1.0 / step);
    const auto count = static_cast<std::size_t>(static_cast<double>(clip.samples.size()) / step);
    std::vector<float> samples(count);
    for (std::size_t i = 0; i < count; ++i) {
        samples[i] =
            static_cast<float>(sample_at(clip.samples, static_cast<double>(i) * step, cutoff));
    }
    return samples;
}

void level_out(std::vector<float>& samples)
{
    float peak = 0.0f;
    for (const float v : samples) peak = std::max(peak, std::abs(v));
    if (peak <= 0.0f) return;
    const float gain = static_cast<float>(kReferencePeak) / peak;
    for (float& v : samples) v *= gain;
}

void soften_ends(std::vector<float>& samples, SampleRate rate)
{
    const auto fade =
        std::min(static_cast<std::size_t>(samples_in(kFade, rate).value), samples.size() / 2);
    for (std::size_t i = 0; i < fade; ++i) {
        const auto gain = static_cast<float>(i) / static_cast<float>(fade);
        samples[i] *= gain;
        samples[samples.size() - 1 - i] *= gain;
    }
}

}  // namespace

// Softened first: an abrupt end would ring in the resampling.
std::vector<float> model_samples(const SoundClip& clip, SampleRate rate)
{
    if (clip.samples.empty()) return {};
    SoundClip soft = clip;
    soften_ends(soft.samples, soft.rate);
    std::vector<float> samples = at_rate(soft, rate);
    level_out(samples);
    return samples;
}

}  // namespace holdwell
