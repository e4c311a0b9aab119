#include "tests/support/signal_script.h"

#include <algorithm>
#include <cmath>

#include "tests/support/filters.h"

namespace holdwell::test {

namespace {

constexpr Seconds kAirRamp{0.010};

bool is_voice(const TrueSound& s) { return s.kind == SoundKind::voice || s.kind == SoundKind::fry; }

std::vector<double> with_ramps(std::vector<double> x, Seconds ramp, SampleRate rate)
{
    const auto n = std::min(static_cast<std::size_t>(samples_in(ramp, rate).value), x.size() / 2);
    for (std::size_t i = 0; i < n; ++i) {
        const double g = 0.5 - 0.5 * std::cos(3.14159265358979 * static_cast<double>(i) /
                                              static_cast<double>(n));
        x[i] *= g;
        x[x.size() - 1 - i] *= g;
    }
    return x;
}

SoundKind kind_of(NoiseKind kind)
{
    if (kind == NoiseKind::breath) return SoundKind::breath;
    return kind == NoiseKind::sibilant ? SoundKind::sibilant : SoundKind::noise;
}

}  // namespace

std::optional<Hertz> ScriptedTake::f0_at(Seconds t) const
{
    if (!voiced_throughout(t, Seconds{0.0})) return std::nullopt;
    for (const PhaseTrack& p : phases)
        if (const auto f0 = p.f0_at(t, f0_span)) return f0;
    return std::nullopt;
}

bool ScriptedTake::voiced_throughout(Seconds t, Seconds margin) const
{
    return std::ranges::any_of(sounds, [&](const TrueSound& s) {
        return s.kind == SoundKind::voice && s.begin <= t - margin && t + margin <= s.end;
    });
}

bool ScriptedTake::voiceless_throughout(Seconds t, Seconds margin) const
{
    return std::ranges::none_of(sounds, [&](const TrueSound& s) {
        return is_voice(s) && s.begin < t + margin && t - margin < s.end;
    });
}

Seconds ScriptedTake::length() const
{
    return duration_of(SampleCount{static_cast<std::int64_t>(samples.size())}, rate);
}

SignalScript::SignalScript(SampleRate rate, std::uint64_t seed) : rate_{rate}, random_{seed} {}

Seconds SignalScript::now() const
{
    return duration_of(SampleCount{static_cast<std::int64_t>(mix_.size())}, rate_);
}

void SignalScript::append(const std::vector<double>& x, double gain)
{
    mix_.reserve(mix_.size() + x.size());
    for (const double v : x) mix_.push_back(gain * v);
}

void SignalScript::add(const std::vector<double>& x, double gain)
{
    for (std::size_t i = 0; i < mix_.size(); ++i) mix_[i] += gain * x[i];
}

SignalScript& SignalScript::silence(Seconds length)
{
    mix_.resize(mix_.size() + static_cast<std::size_t>(samples_in(length, rate_).value));
    return *this;
}

void SignalScript::note_voice(const Voice& voice, Seconds begin, Seconds end)
{
    TrueSound part{SoundKind::voice, begin, end, begin + audible_after(voice.attack), end};
    for (const Gap& g : voice.gaps) {
        part.end = part.heard_end = begin + g.at;
        sounds_.push_back(part);
        part.begin = part.heard_begin = begin + g.at + g.length;
    }
    part.end = end;
    part.heard_end = end - audible_after(voice.decay);
    sounds_.push_back(part);
}

SignalScript& SignalScript::voice(const Voice& voice, Seconds length)
{
    const Seconds begin = now();
    RenderedVoice made = render(voice, length, rate_, next_seed());
    made.phase.shift(SampleCount{static_cast<std::int64_t>(mix_.size())});
    append(made.samples, 1.0);
    note_voice(voice, begin, now());
    phases_.push_back(std::move(made.phase));
    return *this;
}

SignalScript& SignalScript::air(NoiseKind kind, Seconds length, Dbfs level)
{
    const Seconds begin = now();
    append(with_ramps(noise(kind, length, rate_, next_seed()), kAirRamp, rate_),
           std::sqrt(mean_square_of(level)));
    const Seconds edge = audible_after(kAirRamp);
    sounds_.push_back({kind_of(kind), begin, now(), begin + edge, now() - edge});
    return *this;
}

SignalScript& SignalScript::pulses(Fry range, Seconds length, Dbfs level)
{
    const Seconds begin = now();
    append(fry(range, length, rate_, next_seed()), std::sqrt(mean_square_of(level)));
    sounds_.push_back({SoundKind::fry, begin, now(), begin, now()});
    return *this;
}

SignalScript& SignalScript::blow(Thump what, Seconds length, Dbfs level)
{
    const Seconds begin = now();
    append(thump(what, length, rate_, next_seed()), std::sqrt(mean_square_of(level)));
    sounds_.push_back({SoundKind::noise, begin, now(), begin, now()});
    return *this;
}

double SignalScript::voiced_mean_square() const
{
    double sum = 0.0;
    double count = 0.0;
    for (const TrueSound& s : sounds_) {
        if (s.kind != SoundKind::voice) continue;
        const auto from = static_cast<std::size_t>(samples_in(s.heard_begin, rate_).value);
        const auto to = static_cast<std::size_t>(samples_in(s.heard_end, rate_).value);
        for (std::size_t i = from; i < std::min(to, mix_.size()); ++i) sum += mix_[i] * mix_[i];
        count += static_cast<double>(to - from);
    }
    return count > 0.0 ? sum / count : 0.0;
}

SignalScript& SignalScript::with_noise(NoiseKind kind, Decibels voice_to_noise)
{
    return with_noise(kind, level_of(voiced_mean_square()) - voice_to_noise);
}

SignalScript& SignalScript::with_noise(NoiseKind kind, Dbfs level)
{
    add(noise(kind, now(), rate_, next_seed()), std::sqrt(mean_square_of(level)));
    return *this;
}

SignalScript& SignalScript::in_room(Room room)
{
    mix_ = test::in_room(mix_, room, rate_, next_seed());
    return *this;
}

SignalScript& SignalScript::high_passed(Hertz corner)
{
    for (int k = 0; k < 2; ++k) filter_in_place(high_pass(corner, rate_), mix_);
    return *this;
}

SignalScript& SignalScript::overdriven(Decibels gain)
{
    const double factor = gain_of(gain);
    for (double& v : mix_) v = std::clamp(v * factor, -1.0, 1.0);
    return *this;
}

SignalScript& SignalScript::quantised(int bits)
{
    const double steps = std::exp2(bits - 1);
    for (double& v : mix_) v = std::round(v * steps) / steps;
    return *this;
}

ScriptedTake SignalScript::build() const
{
    ScriptedTake take{rate_, {}, sounds_, phases_};
    take.samples.reserve(mix_.size());
    for (const double v : mix_) take.samples.push_back(static_cast<float>(v));
    return take;
}

}  // namespace holdwell::test
