#include "dsp/onset.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "dsp/frame_analyzer.h"
#include "tests/support/allocation_guard.h"
#include "tests/support/noise.h"
#include "tests/support/random.h"
#include "tests/support/voice.h"

// Beginnings made by tests/support: a voice with a raised-cosine attack of known length, air of
// known length before it, a room at a known distance below it. A raised cosine of length T goes
// from 10 to 90 % in 0.59 T: (acos(-0.8) - acos(0.8)) / pi.

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr SampleRate kRate{48'000.0};
constexpr std::size_t kHop = 480;

enum class Air { none, breath, flat };

struct Beginning {
    Seconds shortest_attack;
    Seconds longest_attack;
    Air air{Air::none};
    std::optional<Decibels> snr{};  // absent: no room at all
};

struct Made {
    std::vector<float> samples;
    Seconds begin{};
    Seconds attack{};
    Seconds air_lead{};
};

std::size_t samples_of(Seconds t) { return static_cast<std::size_t>(samples_in(t, kRate).value); }

Voice some_voice(Random& random)
{
    const double f0_hz = 110.0 * std::exp2(random.uniform(0.0, 2.2));
    Voice voice;
    voice.f0 = drift(Hertz{f0_hz}, Cents{15.0}, random.next());
    voice.tract =
        tract_of(static_cast<Vowel>(random.below(4)), f0_hz > 200.0 ? Speaker::high : Speaker::low);
    voice.r_d = random.uniform(0.7, 2.2);
    voice.jitter_percent = random.uniform(0.1, 0.6);
    voice.shimmer_percent = random.uniform(0.5, 3.0);
    voice.hnr = Decibels{random.uniform(15.0, 28.0)};
    voice.level = Dbfs{random.uniform(-45.0, -18.0)};
    return voice;
}

std::vector<double> some_air(Air kind, Seconds length, std::uint64_t seed)
{
    if (kind == Air::breath) return noise(NoiseKind::breath, length, kRate, seed);
    std::vector<double> x = noise(NoiseKind::white, length, kRate, seed);
    filter_in_place(high_pass(Hertz{500.0}, kRate), x);
    filter_in_place(low_pass(Hertz{6000.0}, kRate), x);
    double sum = 0.0;
    for (const double v : x) sum += v * v;
    for (double& v : x) v /= std::sqrt(sum / static_cast<double>(x.size()));
    return x;
}

// Leads the voice by `lead`, and dies over the 80 ms after its beginning.
void add_air(std::vector<double>& mix, const std::vector<double>& air, Seconds from, double gain)
{
    const std::size_t at = samples_of(from);
    const double length_s = static_cast<double>(air.size()) / kRate.hz;
    for (std::size_t i = 0; i < air.size(); ++i) {
        const double t_s = static_cast<double>(i) / kRate.hz;
        const double ramp = std::min({1.0, t_s / 0.02, (length_s - t_s) / 0.08});
        mix[at + i] += gain * ramp * air[i];
    }
}

Made make(const Beginning& wanted, std::uint64_t seed)
{
    Random random{seed};
    Made made;
    made.begin = Seconds{random.uniform(0.7, 1.2)};
    made.attack =
        Seconds{random.uniform(wanted.shortest_attack.count(), wanted.longest_attack.count())};
    Voice voice = some_voice(random);
    voice.attack = made.attack;
    const std::vector<double> sung = render(voice, 700ms, kRate, random.next()).samples;
    std::vector<double> mix(samples_of(made.begin));
    mix.insert(mix.end(), sung.begin(), sung.end());
    const double voice_power = mean_square_of(voice.level);
    if (wanted.air != Air::none) {
        made.air_lead = Seconds{random.uniform(0.1, 0.4)};
        double air_db = random.uniform(-30.0, -16.0);
        if (wanted.snr) air_db = std::max(air_db, 10.0 - wanted.snr->value);
        const auto air = some_air(wanted.air, made.air_lead + 80ms, random.next());
        add_air(mix, air, made.begin - made.air_lead,
                std::sqrt(voice_power) * gain_of(Decibels{air_db}));
    }
    if (wanted.snr) {
        const NoiseKind kind = random.below(2) == 0 ? NoiseKind::white : NoiseKind::pink;
        const Seconds length{static_cast<double>(mix.size() + 1) / kRate.hz};
        const std::vector<double> room = noise(kind, length, kRate, random.next());
        const double gain = std::sqrt(voice_power) / gain_of(*wanted.snr);
        for (std::size_t i = 0; i < mix.size(); ++i) mix[i] += gain * room[i];
    }
    made.samples.assign(mix.begin(), mix.end());
    return made;
}

// As the listener does it: measured when kSettle has passed since the beginning, which is known to
// within -10 .. +30 ms.
Onset onset_in(const Made& made, Seconds late)
{
    const AnalysisConfig config{.sample_rate = kRate};
    FrameAnalyzer analyzer{config};
    OnsetMeter meter{config};
    const Seconds told = made.begin + late;
    const std::span<const float> all{made.samples};
    for (std::size_t i = 0; i + kHop <= all.size(); i += kHop) {
        const std::span<const float> hop = all.subspan(i, kHop);
        meter.push(hop, analyzer.push(hop));
        const Seconds now{static_cast<double>(i + kHop) / kRate.hz};
        if (now >= told + OnsetMeter::kSettle) break;
    }
    return meter.measure(SampleIndex{samples_in(told, kRate).value});
}

using Counts = std::array<int, 4>;  // in the order of OnsetClass

Counts names_of(const Beginning& wanted, std::uint64_t first_seed, int count)
{
    Counts counts{};
    for (int k = 0; k < count; ++k) {
        const std::uint64_t seed = first_seed + static_cast<std::uint64_t>(k);
        const Made made = make(wanted, seed);
        const Seconds late{Random{seed ^ 0xa5a5}.uniform(-0.01, 0.03)};
        ++counts[static_cast<std::size_t>(onset_in(made, late).named)];
    }
    return counts;
}

int count_in(const Counts& counts, OnsetClass name)
{
    return counts[static_cast<std::size_t>(name)];
}

OnsetFeatures quiet_room(OnsetFeatures f)
{
    f.snr = Decibels{40.0};
    return f;
}

}  // namespace

TEST_CASE("the rule, row by row")
{
    struct Row {
        OnsetFeatures features;
        OnsetClass named;
        const char* reason;
    };
    const Row rows[] = {
        {quiet_room({.rise = 7ms, .overshoot = {4.0}}), OnsetClass::hard,
         "full level in 7 ms, with a click: a hard start"},
        {quiet_room({.rise = 7ms}), OnsetClass::hard, "full level in 7 ms: a hard start"},
        {quiet_room({.rise = 16ms, .irregular = true}), OnsetClass::hard,
         "full level in 16 ms, with an uneven beginning: a hard start"},
        {quiet_room({.rise = 16ms}), OnsetClass::unsure,
         "full level in 16 ms: between a hard and an easy start"},
        {quiet_room({.rise = 62ms}), OnsetClass::easy,
         "full level in 62 ms, without a click or air: an easy start"},
        {quiet_room({.rise = 30ms, .air_lead = 140ms}), OnsetClass::breathy,
         "air for 140 ms before the voice: a breathy start"},
        {quiet_room({.rise = 30ms, .air_lead = 40ms}), OnsetClass::unsure,
         "air for 40 ms before the voice: too little to call it breathy"},
        {{.rise = 7ms, .snr = {15.0}}, OnsetClass::unsure, "too much noise in the room to tell"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.reason);
        CHECK(class_of(row.features) == row.named);
        CHECK(reason_for(row.features) == row.reason);
    }
}

TEST_CASE("clear beginnings are named right, and an easy one is hardly ever called hard")
{
    struct Row {
        std::string name;
        Beginning wanted;
        OnsetClass named;
    };
    const Row rows[] = {
        {"hard, clean", {1ms, 10ms}, OnsetClass::hard},
        {"hard, 30 dB", {1ms, 10ms, Air::none, Decibels{30.0}}, OnsetClass::hard},
        {"easy, clean", {40ms, 200ms}, OnsetClass::easy},
        {"easy, 30 dB", {40ms, 200ms, Air::none, Decibels{30.0}}, OnsetClass::easy},
        {"breath, clean", {30ms, 60ms, Air::breath}, OnsetClass::breathy},
        {"breath, 30 dB", {30ms, 60ms, Air::breath, Decibels{30.0}}, OnsetClass::breathy},
        {"flat air, clean", {30ms, 60ms, Air::flat}, OnsetClass::breathy},
        {"flat air, 30 dB", {30ms, 60ms, Air::flat, Decibels{30.0}}, OnsetClass::breathy},
    };
    constexpr int kEach = 50;
    std::uint64_t seed = 20'000;
    for (const Row& row : rows) {
        CAPTURE(row.name);
        const Counts counts = names_of(row.wanted, seed, kEach);
        seed += 1000;
        const int right = count_in(counts, row.named);
        MESSAGE(row.name, ": ", right, " of ", kEach, " right, ",
                count_in(counts, OnsetClass::unsure), " unsure");
        CHECK(right >= 48);  // 95 %
        CHECK(right + count_in(counts, OnsetClass::unsure) == kEach);
    }
}

TEST_CASE("less than 20 dB over the room every beginning is unsure")
{
    for (const double snr_db : {19.0, 12.0}) {
        for (const Beginning& wanted : {Beginning{1ms, 10ms}, Beginning{40ms, 200ms}}) {
            Beginning noisy = wanted;
            noisy.snr = Decibels{snr_db};
            CHECK(count_in(names_of(noisy, 31'000, 25), OnsetClass::unsure) == 25);
        }
    }
}

TEST_CASE("the rise is that of the attack, and the air as long as it was made")
{
    for (const double attack_ms : {10.0, 25.0, 60.0, 120.0, 200.0}) {
        CAPTURE(attack_ms);
        const Seconds attack{attack_ms / 1000.0};
        std::vector<double> errors_ms;
        for (std::uint64_t k = 0; k < 15; ++k) {
            const Onset onset = onset_in(make({attack, attack}, 41'000 + k), 0ms);
            REQUIRE(onset.rise);
            const double part = (std::acos(-0.8) - std::acos(0.8)) / std::numbers::pi;
            errors_ms.push_back(std::abs(onset.rise->count() * 1000.0 - part * attack_ms));
        }
        std::sort(errors_ms.begin(), errors_ms.end());
        CHECK(errors_ms[7] <= 2.0 + 0.05 * attack_ms);
    }
    for (std::uint64_t k = 0; k < 20; ++k) {
        CAPTURE(k);
        const Made made = make({40ms, 40ms, Air::flat, Decibels{30.0}}, 42'000 + k);
        const Onset onset = onset_in(made, 0ms);
        REQUIRE(onset.air_lead);
        CHECK(std::abs(onset.air_lead->count() - made.air_lead.count()) <= 0.03);
    }
}

TEST_CASE("a breath in that stops well before the voice is no air before it")
{
    for (std::uint64_t k = 0; k < 30; ++k) {
        CAPTURE(k);
        Made made = make({1ms, 10ms, Air::none, Decibels{35.0}}, 43'000 + k);
        Random random{k};
        std::vector<double> mix(made.samples.begin(), made.samples.end());
        const Seconds pause{random.uniform(0.15, 0.3)};
        const std::vector<double> breath = noise(NoiseKind::breath, 350ms, kRate, random.next());
        add_air(mix, breath, made.begin - pause - 350ms, 0.02);
        made.samples.assign(mix.begin(), mix.end());
        CHECK(onset_in(made, 10ms).named != OnsetClass::breathy);
    }
}

TEST_CASE("half the amplitude and the other sign give the same name and features")
{
    Made made = make({20ms, 30ms, Air::flat, Decibels{32.0}}, 44'000);
    const Onset before = onset_in(made, 0ms);
    for (float& v : made.samples) v *= -0.5f;
    const Onset after = onset_in(made, 0ms);
    CHECK(before.named == after.named);
    CHECK(before.reason == after.reason);
}

TEST_CASE("a beginning without a room before it is unsure, and says why")
{
    Made made = make({1ms, 10ms}, 45'000);
    made.samples.erase(made.samples.begin(),
                       made.samples.begin() +
                           static_cast<std::ptrdiff_t>(samples_of(made.begin - 100ms)));
    made.begin = 100ms;
    const Onset onset = onset_in(made, 0ms);
    CHECK(onset.named == OnsetClass::unsure);
    CHECK_FALSE(onset.rise);
    CHECK(onset.reason == "it began before there was time to know the room");
}

TEST_CASE("taking in a hop allocates nothing, at the lowest rate too")
{
    for (const double rate_hz : {8000.0, 48'000.0, 192'000.0}) {
        const AnalysisConfig config{.sample_rate = SampleRate{rate_hz}};
        OnsetMeter meter{config};
        const std::vector<float> hop(static_cast<std::size_t>(hop_length(config).value), 0.1f);
        const AllocationGuard guard;
        for (int i = 0; i < 200; ++i) meter.push(hop, FrameReading{});
        CHECK(guard.allocations() == 0);
    }
}
