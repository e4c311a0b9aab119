#pragma once
// What the tests of a capture that is disturbed begin from.

#include <doctest/doctest.h>

#include "app/base/result.h"
#include "app/files/recording.h"
#include "dsp/tuning.h"
#include "tests/support/signal_script.h"

namespace holdwell::test {

inline void require(const Outcome& outcome)
{
    REQUIRE_MESSAGE(outcome.has_value(), (outcome ? "" : outcome.error().message));
}

// Twelve seconds of F4 at 48 kHz, after half a second of the room.
inline Recording long_hold()
{
    constexpr SampleRate kRate{48'000.0};
    const ScriptedTake take = SignalScript{kRate, 5}
                                  .silence(500ms)
                                  .voice({.f0 = steady(frequency_of(kF4))}, 12s)
                                  .with_noise(NoiseKind::white, Dbfs{-70.0})
                                  .build();
    return {.samples = take.samples, .sample_rate = kRate};
}

}  // namespace holdwell::test
