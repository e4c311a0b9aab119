#include "app/audio/stream_health.h"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>

using namespace holdwell;

namespace {

constexpr SampleRate kRate{48'000.0};

SteadyTime at(Seconds t) { return SteadyTime{t}; }

// A device that delivers as `delivered_at` says, looked at every 5 ms; what the check finds in all.
template <typename Delivered>
Seconds found_missing(Seconds length, Delivered delivered_at)
{
    DriftCheck check{kRate};
    SampleCount missing{};
    for (Seconds t{0.0}; t < length; t += 5ms) {
        const Seconds whole_blocks = std::floor(delivered_at(t) / Seconds{10ms}) * Seconds{10ms};
        missing = missing + check.step(at(t), samples_in(whole_blocks, kRate));
    }
    return duration_of(missing, kRate);
}

}  // namespace

TEST_CASE("a stream that has ended, or brings nothing for a second, is dead")
{
    StreamHealth health{kRate, at(0s)};
    CHECK(health.step(at(0.1s), {}) == StreamState::waiting);
    CHECK(health.step(at(0.2s), {.delivered = {480}}) == StreamState::flowing);
    CHECK(health.step(at(1.1s), {.delivered = {480}}) == StreamState::flowing);
    CHECK(health.step(at(1.3s), {.delivered = {480}}) == StreamState::dead);
    CHECK(health.step(at(1.4s), {.delivered = {960}}) == StreamState::flowing);
    CHECK(health.step(at(1.41s), {.delivered = {1440}, .ended = true}) == StreamState::dead);
}

TEST_CASE("a stream may take its time to begin, but not for ever")
{
    StreamHealth health{kRate, at(0s)};
    CHECK(health.step(at(2.0s), {}) == StreamState::waiting);  // an idle sound server's 2 s
    CHECK(health.step(at(6.0s), {}) == StreamState::dead);
}

TEST_CASE("nothing but zeros is called silent within two seconds, and sound at once again")
{
    StreamHealth health{kRate, at(0s)};
    CHECK(health.step(at(1s), {.delivered = {48'000}, .zeros = {48'000}}) == StreamState::flowing);
    CHECK(health.step(at(1.9s), {.delivered = {91'200}, .zeros = {91'200}}) == StreamState::silent);
    CHECK(health.step(at(2s), {.delivered = {96'000}, .zeros = {3}}) == StreamState::flowing);
}

TEST_CASE("samples that never arrive are found within a second, in their true number")
{
    for (const Seconds hole : {Seconds{80ms}, Seconds{200ms}, Seconds{500ms}, Seconds{900ms}}) {
        CAPTURE(hole.count());
        const Seconds begin{2.03};
        const auto delivered = [&](Seconds t) {
            if (t < begin) return t;
            return t < begin + hole ? begin : t - hole;
        };
        CHECK(found_missing(begin, delivered).count() == 0.0);
        const Seconds found = found_missing(begin + hole + 1100ms, delivered);
        CHECK(std::abs((found - hole).count()) < 0.011);  // a block
        CHECK(found_missing(begin + hole + 20s, delivered) == found);
    }
}

TEST_CASE("neither jitter, nor a slow clock, nor a backlog counts as lost")
{
    CHECK(found_missing(60s, [](Seconds t) { return t; }).count() == 0.0);
    // 1000 ppm off, ten times what a sound card's crystal may be.
    CHECK(found_missing(60s, [](Seconds t) { return t * 0.999; }).count() == 0.0);
    CHECK(found_missing(60s, [](Seconds t) { return t * 1.001; }).count() == 0.0);
    // Twice a second nothing comes for 120 ms, and then all of it at once.
    const auto bursts = [](Seconds t) {
        const double phase = std::fmod(t.count(), 0.5);
        return phase < 0.12 ? t - Seconds{phase} : t;
    };
    CHECK(found_missing(60s, bursts).count() == 0.0);
    // Once, nothing for 0.9 s, and then all of it at once.
    const auto stall = [](Seconds t) { return t > 3s && t < 3900ms ? Seconds{3s} : t; };
    CHECK(found_missing(60s, stall).count() == 0.0);
}
