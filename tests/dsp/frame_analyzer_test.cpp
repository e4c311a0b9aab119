#include "dsp/frame_analyzer.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <span>
#include <vector>

#include "tests/support/allocation_guard.h"
#include "tests/support/signal_script.h"

using namespace holdwell;
using namespace holdwell::test;

TEST_CASE("reading a hop of voice, hiss or silence allocates nothing")
{
    const ScriptedTake take = SignalScript{SampleRate{48'000.0}, 31}
                                  .silence(300ms)
                                  .voice({.f0 = steady({220.0})}, 500ms)
                                  .air(NoiseKind::sibilant, 300ms, Dbfs{-30.0})
                                  .build();
    FrameAnalyzer analyzer{AnalysisConfig{}};
    const std::span<const float> all{take.samples};
    int voiced = 0;
    const AllocationGuard guard;
    for (std::size_t i = 0; i + 480 <= all.size(); i += 480) {
        if (analyzer.push(all.subspan(i, 480)).phonation == Phonation::voiced) ++voiced;
    }
    analyzer.skip({1000});
    CHECK(guard.allocations() == 0);
    CHECK(voiced > 40);  // of 50 hops
}

TEST_CASE("f0 and its error are engaged exactly in voiced readings, and f0 is the true one")
{
    for (const double rate : {44'100.0, 48'000.0, 96'000.0}) {
        CAPTURE(rate);
        const ScriptedTake take =
            SignalScript{SampleRate{rate}, 32}
                .silence(200ms)
                .voice({.f0 = steady({220.0}), .source = Source::harmonics}, 600ms)
                .silence(200ms)
                .build();
        const AnalysisConfig config{.sample_rate = take.rate};
        const auto hop = static_cast<std::size_t>(hop_length(config).value);
        CHECK(hop == static_cast<std::size_t>(std::lround(rate / 100.0)));
        FrameAnalyzer analyzer{config};
        const std::span<const float> all{take.samples};
        int judged = 0;
        for (std::size_t i = 0; i + hop <= all.size(); i += hop) {
            const FrameReading r = analyzer.push(all.subspan(i, hop));
            const bool voiced = r.phonation == Phonation::voiced;
            CHECK(r.f0.has_value() == voiced);
            CHECK(r.f0_error.has_value() == voiced);
            CHECK(r.f0_slope.has_value() == voiced);
            CHECK(r.hop_begin == SampleIndex{static_cast<std::int64_t>(i)});
            const Seconds at = time_of(r.centre, take.rate);
            if (!voiced || !take.voiced_throughout(at, 80ms)) continue;
            ++judged;
            CHECK(std::abs(interval_between({220.0}, *r.f0).value) < 1.0);
        }
        CHECK(judged > 35);  // of 44 hops
    }
}
