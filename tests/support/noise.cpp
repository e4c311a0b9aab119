#include "tests/support/noise.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/support/filters.h"
#include "tests/support/random.h"
#include "tests/support/voice.h"

namespace holdwell::test {

namespace {

constexpr double kTurn = 2.0 * std::numbers::pi;
using Samples = std::vector<double>;

Samples white(std::size_t count, std::uint64_t seed)
{
    Random random{seed};
    Samples x(count);
    for (double& v : x) v = random.normal();
    return x;
}

// One-pole filters an octave apart, weighted so that their sum falls by 3 dB an octave within
// 0.5 dB from 20 Hz to 16 kHz. Common practice, no source.
Samples pink(std::size_t count, SampleRate rate, std::uint64_t seed)
{
    constexpr int kPoles = 11;
    Random random{seed};
    std::array<double, kPoles> keep{};
    std::array<double, kPoles> state{};
    for (int k = 0; k < kPoles; ++k)
        keep[static_cast<std::size_t>(k)] = std::exp(-kTurn * 16.0 * std::exp2(k) / rate.hz);
    Samples x(count);
    for (double& v : x) {
        const double fresh = random.normal();
        double sum = 0.0;
        for (std::size_t k = 0; k < kPoles; ++k) {
            state[k] = keep[k] * state[k] + (1.0 - keep[k]) * fresh;
            sum += state[k] / std::sqrt(1.0 - keep[k]);
        }
        v = sum;
    }
    return x;
}

Samples room_noise(std::size_t count, SampleRate rate, std::uint64_t seed)
{
    Samples x = white(count, seed);
    const Samples floor = white(count, seed ^ 0x0f);
    filter_in_place(low_pass(Hertz{200.0}, rate), x);
    const double share = 0.056 * std::sqrt(200.0 * 2.2 / rate.hz);  // -25 dB of what remains
    for (std::size_t i = 0; i < count; ++i) x[i] += share * floor[i];
    return x;
}

Samples fan(std::size_t count, SampleRate rate, std::uint64_t seed)
{
    Samples x = pink(count, rate, seed);
    filter_in_place(low_pass(Hertz{500.0}, rate), x);
    for (std::size_t i = 0; i < count; ++i)
        x[i] *= 1.0 + 0.1 * std::sin(kTurn * 24.0 * static_cast<double>(i) / rate.hz);
    return x;
}

Samples hum(std::size_t count, SampleRate rate, double mains_hz, std::uint64_t seed)
{
    Random random{seed};
    Samples x(count);
    for (int k = 1; k <= 24; ++k) {
        const double start = random.uniform(0.0, kTurn);
        const double step = kTurn * mains_hz * k / rate.hz;
        for (std::size_t i = 0; i < count; ++i)
            x[i] += std::sin(start + step * static_cast<double>(i)) / k;
    }
    return x;
}

Voice talker(Random& random)
{
    Voice v;
    const Hertz f0{random.uniform(95.0, 260.0)};
    v.f0 = drift(f0, Cents{250.0}, random.next());
    const auto vowel = static_cast<Vowel>(random.below(4));
    v.tract = tract_of(vowel, f0.value < 160.0 ? Speaker::low : Speaker::high);
    v.jitter_percent = 1.0;
    v.shimmer_percent = 5.0;
    v.hnr = Decibels{15.0};
    const double rate_hz = random.uniform(2.5, 5.0);
    const double start = random.uniform(0.0, kTurn);
    v.loudness = [=](Seconds t) {
        return Decibels{-12.0 + 12.0 * std::sin(start + kTurn * rate_hz * t.count())};
    };
    return v;
}

Samples babble(Seconds length, SampleRate rate, std::uint64_t seed)
{
    constexpr int kTalkers = 8;
    Random random{seed};
    Samples sum(static_cast<std::size_t>(samples_in(length, rate).value));
    for (int k = 0; k < kTalkers; ++k) {
        const Samples one = render(talker(random), length, rate, random.next()).samples;
        for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += one[i];
    }
    return sum;
}

Samples breath(std::size_t count, SampleRate rate, std::uint64_t seed)
{
    Samples x = pink(count, rate, seed);
    filter_in_place(high_pass(Hertz{150.0}, rate), x);
    filter_in_place(resonator({{600.0}, {400.0}}, rate), x);
    filter_in_place(resonator({{1500.0}, {600.0}}, rate), x);
    return x;
}

Samples sibilant(std::size_t count, SampleRate rate, std::uint64_t seed)
{
    const auto corner = [&](double hz) { return Hertz{std::min(hz, 0.42 * rate.hz)}; };
    Samples x = white(count, seed);
    for (int k = 0; k < 2; ++k) {
        filter_in_place(high_pass(corner(4500.0), rate), x);
        filter_in_place(low_pass(corner(9000.0), rate), x);
    }
    return x;
}

void to_unit_rms(Samples& x)
{
    double sum = 0.0;
    for (const double v : x) sum += v * v;
    if (sum <= 0.0) return;
    const double gain = std::sqrt(static_cast<double>(x.size()) / sum);
    for (double& v : x) v *= gain;
}

Samples raw_noise(NoiseKind kind, Seconds length, SampleRate rate, std::uint64_t seed)
{
    const auto count = static_cast<std::size_t>(samples_in(length, rate).value);
    switch (kind) {
    case NoiseKind::white:
        return white(count, seed);
    case NoiseKind::pink:
        return pink(count, rate, seed);
    case NoiseKind::room:
        return room_noise(count, rate, seed);
    case NoiseKind::fan:
        return fan(count, rate, seed);
    case NoiseKind::hum_50:
        return hum(count, rate, 50.0, seed);
    case NoiseKind::hum_60:
        return hum(count, rate, 60.0, seed);
    case NoiseKind::babble:
        return babble(length, rate, seed);
    case NoiseKind::breath:
        return breath(count, rate, seed);
    case NoiseKind::sibilant:
        return sibilant(count, rate, seed);
    }
    return {};
}

}  // namespace

std::vector<double> noise(NoiseKind kind, Seconds length, SampleRate rate, std::uint64_t seed)
{
    Samples x = raw_noise(kind, length, rate, seed);
    to_unit_rms(x);
    return x;
}

std::vector<double> fry(Fry range, Seconds length, SampleRate rate, std::uint64_t seed)
{
    Random random{seed};
    Samples x(static_cast<std::size_t>(samples_in(length, rate).value));
    double at_s = 0.0;
    while (at_s < length.count()) {
        const auto place = static_cast<std::size_t>(at_s * rate.hz);
        // A short closing stroke of one millisecond, of uneven strength.
        const double height = random.uniform(0.6, 1.4);
        const auto stroke = static_cast<std::size_t>(0.001 * rate.hz);
        for (std::size_t i = 0; i < stroke && place + i < x.size(); ++i)
            x[place + i] -= height * (1.0 - static_cast<double>(i) / static_cast<double>(stroke));
        at_s += 1.0 / random.uniform(range.slowest.value, range.fastest.value);
    }
    filter_in_place(high_pass(Hertz{60.0}, rate), x);
    for (const Formant& f : tract_of(Vowel::a, Speaker::low))
        if (f.centre.value < 0.45 * rate.hz) filter_in_place(resonator(f, rate), x);
    to_unit_rms(x);
    return x;
}

std::vector<double> thump(Thump blow, Seconds length, SampleRate rate, std::uint64_t seed)
{
    Samples x = white(static_cast<std::size_t>(samples_in(length, rate).value), seed);
    const double fall = std::log(1000.0) / blow.decay.count();
    for (std::size_t i = 0; i < x.size(); ++i)
        x[i] *= std::exp(-fall * static_cast<double>(i) / rate.hz);
    filter_in_place(resonator({blow.centre, {blow.centre.value}}, rate), x);
    to_unit_rms(x);
    return x;
}

std::vector<double> in_room(const std::vector<double>& dry, Room room, SampleRate rate,
                            std::uint64_t seed)
{
    constexpr double kPulsesPerSecond = 3000.0;
    constexpr double kFirst_s = 0.004;  // before the first reflection
    struct Reflection {
        std::size_t after;
        double gain;
    };
    Random random{seed};
    const double fall = std::log(1000.0) / room.rt60.count();
    std::vector<Reflection> tail;
    double energy = 0.0;
    for (double t = kFirst_s; t < 1.2 * room.rt60.count(); t += 1.0 / kPulsesPerSecond) {
        const double sign = random.below(2) == 0 ? -1.0 : 1.0;
        const double at = (t + random.uniform(0.0, 1.0 / kPulsesPerSecond)) * rate.hz;
        tail.push_back({static_cast<std::size_t>(at), sign * std::exp(-fall * t)});
        energy += tail.back().gain * tail.back().gain;
    }
    const double gain =
        std::sqrt(std::pow(10.0, -room.direct_to_reverberant.value / 10.0) / energy);
    // Silence around the sound reflects nothing.
    const auto sounds = [](double v) { return v != 0.0; };
    const auto first = static_cast<std::size_t>(std::ranges::find_if(dry, sounds) - dry.begin());
    const auto last = std::find_if(dry.rbegin(), dry.rend(), sounds);
    const auto end = static_cast<std::size_t>(last.base() - dry.begin());
    Samples wet = dry;
    for (const Reflection& r : tail)
        for (std::size_t i = first; i < std::min(end, wet.size() - std::min(r.after, wet.size()));
             ++i)
            wet[i + r.after] += gain * r.gain * dry[i];
    return wet;
}

}  // namespace holdwell::test
