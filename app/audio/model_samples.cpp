#include "app/audio/model_samples.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <functional>
#include <numbers>

#include "dsp/reference_tone.h"

namespace holdwell {

namespace {

constexpr int kCrossings = 16;
constexpr int kStepsPerCrossing = 512;  // linear between them: 1e-5 off at most
constexpr Seconds kFade{10ms};

double windowed_sinc(double x)
{
    if (std::abs(x) >= kCrossings) return 0.0;
    const double turn = std::numbers::pi * x;
    const double sinc = x == 0.0 ? 1.0 : std::sin(turn) / turn;
    return sinc * (0.5 + 0.5 * std::cos(turn / kCrossings));
}

class SincTable {
public:
    SincTable() : values_(static_cast<std::size_t>(kCrossings * kStepsPerCrossing) + 2)
    {
        for (std::size_t i = 0; i < values_.size(); ++i)
            values_[i] = windowed_sinc(static_cast<double>(i) / kStepsPerCrossing);
    }
    double at(double x) const
    {
        const double place = std::min(std::abs(x), double{kCrossings}) * kStepsPerCrossing;
        const auto below = static_cast<std::size_t>(place);
        const double part = place - static_cast<double>(below);
        return values_[below] + part * (values_[below + 1] - values_[below]);
    }

private:
    std::vector<double> values_;  // from 0 on, and one of padding
};

struct Resampling {
    const std::vector<float>& from;
    const SincTable& sinc;
    double cutoff;  // in parts of the rate of `from`, at most 1
};

// `at` in samples of `from`.
double sample_at(const Resampling& r, double at)
{
    const double reach = kCrossings / r.cutoff;
    const auto size = static_cast<std::int64_t>(r.from.size());
    const auto first = std::max<std::int64_t>(0, std::llround(std::ceil(at - reach)));
    const auto last = std::min<std::int64_t>(size - 1, std::llround(std::floor(at + reach)));
    double sum = 0.0;
    for (std::int64_t i = first; i <= last; ++i) {
        sum += static_cast<double>(r.from[static_cast<std::size_t>(i)]) *
               r.sinc.at((static_cast<double>(i) - at) * r.cutoff);
    }
    return sum * r.cutoff;
}

std::vector<float> at_rate(const SoundClip& clip, SampleRate rate)
{
    if (clip.rate == rate) return clip.samples;
    const double step = clip.rate.hz / rate.hz;
    const SincTable sinc;
    const Resampling resampling{clip.samples, sinc, std::min(1.0, 1.0 / step)};
    const auto count = static_cast<std::size_t>(static_cast<double>(clip.samples.size()) / step);
    std::vector<float> samples(count);
    for (std::size_t i = 0; i < count; ++i) {
        samples[i] = static_cast<float>(sample_at(resampling, static_cast<double>(i) * step));
    }
    return samples;
}

// Mean squares of stretches of 50 ms, loudest first.
std::vector<double> energies_of(const std::vector<float>& samples, SampleRate rate)
{
    const auto stretch = static_cast<std::size_t>(samples_in(50ms, rate).value);
    std::vector<double> energies;
    for (std::size_t at = 0; at < samples.size(); at += stretch) {
        const std::size_t end = std::min(samples.size(), at + stretch);
        double sum = 0.0;
        for (std::size_t i = at; i < end; ++i)
            sum += static_cast<double>(samples[i]) * static_cast<double>(samples[i]);
        energies.push_back(sum / static_cast<double>(end - at));
    }
    std::ranges::sort(energies, std::ranges::greater{});
    return energies;
}

// Root mean square of what sounds.
double loudness_of(const std::vector<float>& samples, SampleRate rate)
{
    constexpr double kQuietest = 1.0 / 16.0;  // 12 dB below
    const std::vector<double> energies = energies_of(samples, rate);
    if (energies.empty()) return 0.0;
    // A knock is in one or two of them.
    const double loudest = energies[energies.size() / 10];
    double sum = 0.0;
    int count = 0;
    for (const double energy : energies) {
        if (energy < loudest * kQuietest || energy > loudest / kQuietest) continue;
        sum += energy;
        ++count;
    }
    return count > 0 ? std::sqrt(sum / count) : 0.0;
}

// Between its soft ends.
double loudness_of_tone(SampleRate rate)
{
    const auto tone =
        samples_of({.f0 = Hertz{349.23}, .length = Seconds{1.0}, .sample_rate = rate});
    const auto fade_in = static_cast<std::ptrdiff_t>(samples_in(kReferenceFadeIn, rate).value);
    const auto fade_out = static_cast<std::ptrdiff_t>(samples_in(kReferenceFadeOut, rate).value);
    return loudness_of({tone.begin() + fade_in, tone.end() - fade_out}, rate);
}

void level_out(std::vector<float>& samples, SampleRate rate)
{
    const double loudness = loudness_of(samples, rate);
    if (!(loudness > 0.0)) return;
    const auto gain = static_cast<float>(loudness_of_tone(rate) / loudness);
    for (float& v : samples) v = std::clamp(gain * v, -kModelPeak, kModelPeak);
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
    level_out(samples, rate);
    return samples;
}

}  // namespace holdwell
