#include "dsp/onset_history.h"

#include <algorithm>
#include <cmath>

#include "dsp/frication.h"

namespace holdwell {

namespace {

constexpr Hertz kVoiceFrom{70.0};
constexpr Hertz kFundamentalTo{800.0};
constexpr Hertz kBreathFrom{1000.0};

// A corner of 4 kHz does not exist at 8 kHz: then as near to half the rate as makes sense.
Hertz within(Hertz corner, SampleRate rate) { return {std::min(corner.value, 0.4 * rate.hz)}; }

double finite_or_silent(float x) { return std::isfinite(x) ? static_cast<double>(x) : 0.0; }

Biquad high_pass(Hertz corner, SampleRate rate)
{
    return BiquadCascade<1>::high_pass(corner, rate).section(0);
}

Biquad low_pass(Hertz corner, SampleRate rate)
{
    return BiquadCascade<1>::low_pass(corner, rate).section(0);
}

}  // namespace

OnsetHistory::OnsetHistory(const AnalysisConfig& config)
    : rate_{config.sample_rate}, step_samples_{std::max<std::int64_t>(
                                     1, samples_in(Seconds{1ms}, config.sample_rate).value)},
      voice_filter_{high_pass(kVoiceFrom, rate_)},
      fundamental_and_upper_{low_pass(kFundamentalTo, rate_), high_pass(kBreathFrom, rate_)},
      breath_and_hiss_{low_pass(within(kHissFrom, rate_), rate_),
                       high_pass(within(kHissFrom, rate_), rate_)}
{
}

void OnsetHistory::end_step() noexcept
{
    const double n = static_cast<double>(step_samples_);
    kept_[static_cast<std::size_t>(steps_ % kKept)] = {
        static_cast<float>(sums_.voice / n), static_cast<float>(sums_.fundamental / n),
        static_cast<float>(sums_.breath_and_hiss[0] / n),
        static_cast<float>(sums_.breath_and_hiss[1] / n)};
    ++steps_;
    in_step_ = 0;
    sums_ = {};
}

// Adds to the step under way.
void OnsetHistory::filter(std::span<const float> samples) noexcept
{
    Sums sums = sums_;
    for (const float sample : samples) {
        const double voice = voice_filter_.push(finite_or_silent(sample));
        const Two parts = fundamental_and_upper_.push(Two{voice, voice});
        const Two air = breath_and_hiss_.push(Two{parts[1], parts[1]});
        sums.voice += voice * voice;
        sums.fundamental += parts[0] * parts[0];
        sums.breath_and_hiss += air * air;
    }
    sums_ = sums;
    in_step_ += static_cast<std::int64_t>(samples.size());
}

void OnsetHistory::push(std::span<const float> hop, const FrameReading& reading) noexcept
{
    for (std::span<const float> rest = hop; !rest.empty();) {
        const auto n = std::min(rest.size(), static_cast<std::size_t>(step_samples_ - in_step_));
        filter(rest.first(n));
        rest = rest.subspan(n);
        if (in_step_ == step_samples_) end_step();
    }
    voice_filter_.flush();
    fundamental_and_upper_.flush();
    breath_and_hiss_.flush();

    std::optional<Voiced>& slot = readings_[readings_pushed_++ % kReadings];
    slot.reset();
    if (is_voice(reading.phonation)) {
        const auto since = static_cast<double>((reading.centre - first_).value);
        slot = Voiced{since / static_cast<double>(step_samples_), reading.f0};
    }
}

void OnsetHistory::skip(SampleCount lost) noexcept
{
    first_ = first_ + SampleCount{steps_ * step_samples_ + in_step_} + lost;
    steps_ = 0;
    in_step_ = 0;
    sums_ = {};
    readings_.fill(std::nullopt);
}

std::int64_t OnsetHistory::oldest() const noexcept
{
    return std::max<std::int64_t>(0, steps_ - kKept);
}

std::int64_t OnsetHistory::step_at(SampleIndex at) const noexcept
{
    return (at - first_).value / step_samples_;
}

double OnsetHistory::power(Band band, std::int64_t step) const noexcept
{
    if (step < oldest() || step >= steps_) return 0.0;
    const Powers& p = kept_[static_cast<std::size_t>(step % kKept)];
    switch (band) {
    case Band::voice:
        return static_cast<double>(p.voice);
    case Band::fundamental:
        return static_cast<double>(p.fundamental);
    case Band::breath:
        return static_cast<double>(p.breath);
    case Band::hiss:
        return static_cast<double>(p.hiss);
    }
    return 0.0;
}

double OnsetHistory::smooth(Band band, std::int64_t step, double width) const noexcept
{
    const double middle = static_cast<double>(step) + 0.5;
    const double from = std::max(static_cast<double>(oldest()), middle - width / 2.0);
    const double to = std::min(static_cast<double>(steps_), middle + width / 2.0);
    double sum = 0.0;
    for (auto i = static_cast<std::int64_t>(from); static_cast<double>(i) < to; ++i) {
        const double begin = std::max(from, static_cast<double>(i));
        const double end = std::min(to, static_cast<double>(i + 1));
        sum += (end - begin) * power(band, i);
    }
    return to > from ? sum / (to - from) : 0.0;
}

std::optional<OnsetHistory::Voiced> OnsetHistory::voiced(std::size_t back) const noexcept
{
    if (back >= std::min(kReadings, readings_pushed_)) return std::nullopt;
    return readings_[(readings_pushed_ - 1 - back) % kReadings];
}

}  // namespace holdwell
