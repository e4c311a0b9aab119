// Two scripted voices at once, at every interval, and single voices of every kind.

#include "dsp/other_sounds.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "dsp/frame_analyzer.h"
#include "dsp/listener.h"
#include "tests/support/allocation_guard.h"
#include "tests/support/gallery_draws.h"
#include "tests/support/hold_gallery.h"
#include "tests/support/signal_script.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr SampleRate kRate{48'000.0};

Voice natural(Hertz f0, std::uint64_t seed)
{
    return {.f0 = drift(f0, {8.0}, seed),
            .jitter_percent = 0.4,
            .shimmer_percent = 2.0,
            .hnr = Decibels{22.0},
            .level = Dbfs{-26.0}};
}

std::vector<float> sung(const Voice& voice, std::uint64_t seed)
{
    return SignalScript{kRate, seed}
        .silence(500ms)
        .voice(voice, 3s)
        .silence(1s)
        .with_noise(NoiseKind::pink, Dbfs{-70.0})
        .build()
        .samples;
}

std::vector<Hold> holds_in(const std::vector<float>& samples)
{
    Listener listener{{}, {.sought = Sought::hold}};
    listener.push(samples);
    listener.finish();
    return listener.take_finished().holds;
}

}  // namespace

TEST_CASE("a second voice 6 dB softer is noticed at every interval")
{
    int timed = 0, doubted = 0;
    for (const double base : {174.6, 261.6, 349.2}) {
        for (const int semitones : {1, 2, 3, 4, 5, 6, 8, 9, 10, 11}) {
            const auto seed = static_cast<std::uint64_t>(semitones);
            std::vector<float> both = sung(natural({base}, seed), seed);
            Voice second = natural({base * std::pow(2.0, semitones / 12.0)}, 100 + seed);
            second.level = Dbfs{-32.0};
            const std::vector<float> other = sung(second, 100 + seed);
            for (std::size_t i = 0; i < both.size(); ++i) both[i] += other[i];
            for (const Hold& hold : holds_in(both)) {
                ++timed;
                doubted += hold.doubt == Doubt::several_sounds ? 1 : 0;
            }
        }
    }
    CAPTURE(timed);
    CAPTURE(doubted);
    CHECK(timed >= 15);  // the others are not heard as one voice at all
    CHECK(doubted * 20 >= timed * 19);
}

namespace {

// A voice with all that a natural one has of its own: drift of 4 to 15 cents, vibrato in one of
// three, jitter, shimmer, air, and a loudness that wanders.
Voice any_singer(Random& random, Hertz f0)
{
    Voice voice = natural_voice(random, f0);
    const Contour wander = drift(f0, {random.uniform(4.0, 15.0)}, random.next());
    const bool sways = random.uniform(0.0, 1.0) < 0.35;
    const double depth = sways ? random.uniform(15.0, 60.0) : 0.0;
    const double rate = random.uniform(4.8, 6.5), phase = random.uniform(0.0, 6.28);
    voice.f0 = [=](Seconds t) {
        return transposed(wander(t), {depth * std::sin(6.2832 * rate * t.count() + phase)});
    };
    voice.jitter_percent = random.uniform(0.2, 0.7);
    voice.shimmer_percent = random.uniform(1.5, 4.0);
    voice.hnr = Decibels{random.uniform(16.0, 26.0)};
    const Contour swells = drift({100.0}, {random.uniform(30.0, 120.0)}, random.next());
    voice.loudness = [=](Seconds t) {
        return Decibels{interval_between({100.0}, swells(t)).value / 100.0};
    };
    voice.attack = Seconds{random.uniform(0.02, 0.15)};
    voice.decay = Seconds{random.uniform(0.05, 0.20)};
    voice.level = Dbfs{-26.0};
    return voice;
}

struct Told {
    int timed{0};
    int of_several{0};
};

void add(Told& told, const std::vector<float>& samples)
{
    const std::vector<Hold> holds = holds_in(samples);
    if (holds.empty()) return;
    ++told.timed;
    const bool several = std::ranges::any_of(
        holds, [](const Hold& hold) { return hold.doubt == Doubt::several_sounds; });
    told.of_several += several ? 1 : 0;
}

std::vector<float> pair_at(int semitones, std::uint64_t seed)
{
    Random random{seed};
    const Hertz f0 = any_f0(random, 150.0, 400.0);
    const double cents = 100.0 * semitones + random.uniform(-15.0, 15.0);
    const Voice first = any_singer(random, f0);
    Voice second = any_singer(random, transposed(f0, {cents}));
    second.level = Dbfs{-26.0 + random.uniform(-6.0, 0.0)};
    std::vector<float> both = sung(first, random.next());
    const std::vector<float> other = sung(second, random.next());
    for (std::size_t i = 0; i < both.size(); ++i) both[i] += other[i];
    return both;
}

}  // namespace

TEST_CASE("a second voice at the fifth or the octave is noticed by its own drift")
{
    for (const int semitones : {12, -12, 7, -7}) {
        Told told;
        for (std::uint64_t i = 0; i < 14; ++i)
            add(told,
                pair_at(semitones, 40'000 + 100 * i + static_cast<std::uint64_t>(semitones + 20)));
        MESSAGE(semitones, " semitones: ", told.of_several, " of ", told.timed, " noticed");
        CHECK(told.timed >= 6);  // the others are not heard as one voice at all
        CHECK(told.of_several * 10 >= told.timed * 7);
    }
}

TEST_CASE("of many single voices none is taken for several")
{
    Told told;
    for (std::uint64_t i = 0; i < 210; ++i) {
        Random random{50'000 + i};
        Voice voice = any_singer(random, any_f0(random, 80.0, 600.0));
        voice.level = Dbfs{random.uniform(-40.0, -20.0)};
        if (i % 7 == 1) voice.diplophonia = {.amplitude = random.uniform(0.03, 0.2)};
        if (i % 7 == 2) voice.hnr = Decibels{random.uniform(5.0, 12.0)};
        if (i % 7 == 3) {
            const Hertz f0 = any_f0(random, 120.0, 500.0);
            voice.f0 = vibrato(f0, {{random.uniform(4.5, 6.5)}, {random.uniform(40.0, 100.0)}});
        }
        if (i % 7 == 4) voice.tract[0] = {{random.uniform(400.0, 900.0)}, {50.0}};
        SignalScript script{kRate, random.next()};
        script.silence(700ms).voice(voice, 2s).silence(700ms);
        if (i % 7 == 5)
            script.in_room({Seconds{random.uniform(0.2, 0.8)}, {random.uniform(-3.0, 9.0)}});
        constexpr std::array kNoises{NoiseKind::pink, NoiseKind::room, NoiseKind::fan,
                                     NoiseKind::hum_50};
        const Decibels over{i % 7 == 6 ? random.uniform(18.0, 30.0) : 45.0};
        add(told, script.with_noise(kNoises[i % kNoises.size()], over).build().samples);
    }
    MESSAGE(told.of_several, " of ", told.timed, " single voices taken for several");
    CHECK(told.timed >= 180);
    CHECK(told.of_several == 0);
}

TEST_CASE("the fall of a sound's end is timed from 5 to 25 dB below its level")
{
    // 100 hops of -20 dBFS, then 4 dB a hop down to -60: at -44 -> 6 hops; -48 is 28 below.
    std::vector<float> levels(100, -20.0f);
    for (int i = 1; i <= 10; ++i) levels.push_back(-20.0f - 4.0f * static_cast<float>(i));
    const auto fall = fall_of(levels, 100);
    REQUIRE(fall);
    CHECK(fall->count() == doctest::Approx(0.060));           // from -24 (the last within 5) to -48
    CHECK_FALSE(fall_of(std::span{levels}.first(103), 100));  // it does not get there
    CHECK_FALSE(fall_of(std::span{levels}.first(50), 50));    // too short a voice
}

TEST_CASE("one voice alone, breathy, rough, in vibrato or in any room, has no company")
{
    for (const HoldCategory& category : hold_categories()) {
        CAPTURE(category.name);
        const ScriptedTake take = make_take(category, 0);
        for (const Hold& hold : holds_in(take.samples)) CHECK_FALSE(hold.doubt);
    }
    const Hertz f0{220.0};
    const std::array<Voice, 4> voices{
        Voice{.f0 = vibrato(f0, {Hertz{5.5}, Cents{50.0}}), .jitter_percent = 0.4},
        Voice{.f0 = drift(f0, {8.0}, 3), .diplophonia = {.amplitude = 0.1}},
        Voice{.f0 = drift(f0, {8.0}, 4), .r_d = 2.6, .hnr = Decibels{8.0}},
        Voice{.f0 = drift(Hertz{98.0}, {8.0}, 5), .jitter_percent = 0.5}};
    for (const Voice& voice : voices) {
        CAPTURE(&voice - voices.data());
        const auto holds = holds_in(sung(voice, 7));
        REQUIRE(holds.size() == 1);
        CHECK_FALSE(holds[0].doubt);
    }
}

TEST_CASE("lines are those of several when they are no multiples, or when the lowest are missing")
{
    struct Row {
        const char* name;
        std::vector<double> multiples;
        bool several;
    };
    // Arithmetic: 1.26 and 2.52 are a major third (2^(4/12)) and its octave.
    const std::array<Row, 6> rows{{{"one voice", {1, 2, 3, 4, 5}, false},
                                   {"a third above", {1, 1.26, 2, 2.52, 3, 3.78}, true},
                                   {"one stray line", {1, 1.26, 2, 3}, false},
                                   {"roughness", {1, 1.5, 2, 2.5, 3}, false},
                                   {"read an octave low, with a third", {2, 2.52, 4, 5.04}, true},
                                   {"no fundamental", {2, 3, 4, 5}, false}}};
    for (const Row& row : rows) {
        CAPTURE(row.name);
        std::vector<Line> lines;
        for (const double m : row.multiples) lines.push_back({{200.0 * m}, 1.0});
        CHECK(are_of_several(lines, {200.0}, {7.8}) == row.several);
    }
    CHECK_FALSE(are_of_several({}, {200.0}, {7.8}));
}

TEST_CASE("looking for company allocates nothing, at 8 kHz as at 48")
{
    for (const SampleRate rate : {SampleRate{8'000.0}, kRate}) {
        const AnalysisConfig config{.sample_rate = rate};
        const auto hop = static_cast<std::size_t>(hop_length(config).value);
        const std::vector<float> samples =
            SignalScript{rate, 1}.silence(300ms).voice({}, 1s).build().samples;
        FrameAnalyzer analyzer{config};
        OtherSounds others{config};
        std::size_t allocations = 0;
        for (std::size_t i = 0; i + hop <= samples.size(); i += hop) {
            const std::span<const float> part{samples.data() + i, hop};
            const FrameReading reading = analyzer.push(part);
            const AllocationGuard guard;
            others.push(part, reading);
            allocations += guard.allocations();
        }
        CHECK(allocations == 0);
    }
}
