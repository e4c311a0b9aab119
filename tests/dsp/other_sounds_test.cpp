// Two scripted voices at once, at every interval, and single voices of every kind.

#include "dsp/other_sounds.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <vector>

#include "dsp/frame_analyzer.h"
#include "dsp/listener.h"
#include "tests/support/allocation_guard.h"
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

TEST_CASE("a second voice 6 dB softer is noticed at every interval but the fifth and the octave")
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
