#include "dsp/fry.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "dsp/frame_analyzer.h"
#include "tests/support/allocation_guard.h"
#include "tests/support/signal_script.h"

// Pulse register made by tests/support: pulses at random distances through a vocal tract.

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr SampleRate kRate{48'000.0};
constexpr std::size_t kHop = 480;

struct FryHeard {
    std::optional<double> known_at_s;  // when it was first said
    double since_s{0.0};               // where it was said to have begun
    double last_pulse_s{0.0};
    double total_s{0.0};
};

FryHeard fry_in(const ScriptedTake& take)
{
    FrameAnalyzer analyzer{AnalysisConfig{.sample_rate = kRate}};
    FryHeard heard;
    const std::span<const float> samples{take.samples};
    for (std::size_t i = 0; i + kHop <= samples.size(); i += kHop) {
        if (analyzer.push(samples.subspan(i, kHop)).phonation != Phonation::fry) continue;
        const FryReading& fry = analyzer.fry();
        REQUIRE(fry.since);
        if (!heard.known_at_s) {
            heard.known_at_s = static_cast<double>(i + kHop) / kRate.hz;
            heard.since_s = time_of(*fry.since, kRate).count();
        }
        heard.last_pulse_s = time_of(*fry.last_pulse, kRate).count();
        heard.total_s += 0.01;
    }
    return heard;
}

Voice some_voice(Random& random, double f0_hz)
{
    Voice voice;
    voice.f0 = vibrato(Hertz{f0_hz}, {Hertz{5.5}, Cents{random.uniform(0.0, 40.0)}});
    voice.tract =
        tract_of(static_cast<Vowel>(random.below(4)), f0_hz > 180.0 ? Speaker::high : Speaker::low);
    voice.r_d = random.uniform(0.6, 2.0);
    voice.jitter_percent = random.uniform(0.2, 1.5);
    voice.shimmer_percent = random.uniform(1.0, 6.0);
    voice.hnr = Decibels{random.uniform(10.0, 25.0)};
    return voice;
}

}  // namespace

TEST_CASE("fry at the end of a voice: found within 100 ms, and timed")
{
    int late = 0;
    for (int i = 0; i < 60; ++i) {
        CAPTURE(i);
        Random random{static_cast<std::uint64_t>(1000 + i)};
        const Voice voice = some_voice(random, random.uniform(90.0, 400.0));
        const Fry range{Hertz{random.uniform(20.0, 35.0)}, Hertz{random.uniform(45.0, 70.0)}};
        const double length_s = random.uniform(0.5, 1.2);
        const auto take = SignalScript{kRate, static_cast<std::uint64_t>(1000 + i)}
                              .silence(Seconds{0.4})
                              .voice(voice, Seconds{1.0})
                              .pulses(range, Seconds{length_s}, Dbfs{-26.0})
                              .silence(Seconds{0.5})
                              .with_noise(NoiseKind::pink, Decibels{random.uniform(20.0, 50.0)})
                              .build();
        const FryHeard heard = fry_in(take);
        REQUIRE(heard.known_at_s);
        CHECK(*heard.known_at_s > 1.4);
        CHECK(*heard.known_at_s <= 1.55);
        late += *heard.known_at_s > 1.5;
        CHECK(std::abs(heard.since_s - 1.4) <= 0.06);
        // The last pulse falls up to 50 ms before the end.
        CHECK(std::abs(heard.last_pulse_s - heard.since_s - length_s) <= 0.08);
        CHECK(std::abs(heard.total_s - length_s) <= 0.12);
    }
    // 60: at most one in twenty between 100 and 150 ms.
    CHECK(late <= 3);
}

TEST_CASE("a low modal voice is not fry")
{
    double total_s = 0.0;
    for (int i = 0; i < 50; ++i) {
        CAPTURE(i);
        Random random{static_cast<std::uint64_t>(7000 + i)};
        // C2 is 65.4 Hz, D2 73.4 Hz.
        const Voice voice = some_voice(random, random.uniform(64.0, 76.0));
        const auto take = SignalScript{kRate, static_cast<std::uint64_t>(i)}
                              .silence(Seconds{0.4})
                              .voice(voice, Seconds{1.5})
                              .silence(Seconds{0.3})
                              .with_noise(NoiseKind::pink, Decibels{random.uniform(15.0, 50.0)})
                              .build();
        total_s += fry_in(take).total_s;
    }
    CHECK(total_s <= 0.1);  // of 110 s
}

TEST_CASE("no voice is fry, and hardly its end in a room")
{
    double total_s = 0.0;
    for (int i = 0; i < 50; ++i) {
        Random random{static_cast<std::uint64_t>(8000 + i)};
        const Voice voice = some_voice(random, random.uniform(80.0, 500.0));
        const auto take = SignalScript{kRate, static_cast<std::uint64_t>(i)}
                              .silence(Seconds{0.4})
                              .voice(voice, Seconds{1.5})
                              .silence(Seconds{0.4})
                              .with_noise(NoiseKind::room, Decibels{25.0})
                              .build();
        total_s += fry_in(take).total_s;
    }
    CHECK(total_s <= 0.2);  // of 115 s
}

TEST_CASE("noises are not fry")
{
    for (const NoiseKind kind :
         {NoiseKind::white, NoiseKind::pink, NoiseKind::room, NoiseKind::fan, NoiseKind::hum_50,
          NoiseKind::hum_60, NoiseKind::babble, NoiseKind::breath, NoiseKind::sibilant}) {
        CAPTURE(static_cast<int>(kind));
        double total_s = 0.0;
        for (std::uint64_t seed = 1; seed <= 5; ++seed) {
            total_s +=
                fry_in(SignalScript{kRate, seed}.air(kind, Seconds{3.0}, Dbfs{-40.0}).build())
                    .total_s;
        }
        // Breath through an open tract has pulses of its own now and then, and so have talkers.
        CHECK(total_s <= 0.15);  // of 15 s
    }
}

TEST_CASE("clicks and keys are not fry")
{
    double total_s = 0.0;
    for (int i = 0; i < 50; ++i) {
        Random random{static_cast<std::uint64_t>(9000 + i)};
        SignalScript script{kRate, static_cast<std::uint64_t>(i)};
        script.silence(Seconds{0.3});
        for (int k = 0; k < 10; ++k) {
            script.blow(
                {Hertz{random.uniform(300.0, 4000.0)}, Seconds{random.uniform(0.005, 0.05)}},
                Seconds{random.uniform(0.04, 0.3)}, Dbfs{-30.0});
        }
        total_s += fry_in(script.with_noise(NoiseKind::room, Dbfs{-70.0}).build()).total_s;
    }
    CHECK(total_s <= 0.2);
}

TEST_CASE("the detector alone: level, reset, odd samples, no allocation")
{
    const auto take = SignalScript{kRate, 5}
                          .silence(Seconds{0.2})
                          .pulses({}, Seconds{1.0}, Dbfs{-26.0})
                          .silence(Seconds{0.2})
                          .build();
    FryDetector detector{AnalysisConfig{.sample_rate = kRate}};
    const auto hops_of_fry = [&](float gain) {
        int hops = 0;
        std::vector<float> hop(kHop);
        for (std::size_t i = 0; i + kHop <= take.samples.size(); i += kHop) {
            std::transform(take.samples.begin() + static_cast<std::ptrdiff_t>(i),
                           take.samples.begin() + static_cast<std::ptrdiff_t>(i + kHop),
                           hop.begin(), [gain](float x) { return gain * x; });
            const AllocationGuard guard;
            hops += detector.push(hop, Phonation::silence).fry;
            REQUIRE(guard.allocations() == 0);
        }
        detector.reset();
        return hops;
    };
    const int hops = hops_of_fry(1.0f);
    CHECK(hops >= 75);  // the first five pulses pass unsaid, without a voice before them
    CHECK(hops_of_fry(1.0f) == hops);
    CHECK(std::abs(hops_of_fry(-0.1f) - hops) <= 1);
    const std::vector<float> odd(kHop, std::nanf(""));
    CHECK_FALSE(detector.push(odd, Phonation::silence).fry);
    CHECK(hops_of_fry(1.0f) == hops);
}
