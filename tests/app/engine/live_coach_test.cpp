#include "app/engine/live_coach.h"

#include <doctest/doctest.h>

#include <atomic>
#include <chrono>
#include <cmath>
#include <memory>
#include <thread>
#include <vector>

#include "tests/app/engine/scripted_sound.h"
#include "tests/support/signal_script.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

SourceStatus live()
{
    return {.state = CaptureState::live,
            .device = "a microphone",
            .message = {},
            .sample_rate = {48'000.0},
            .stream = 1};
}

}  // namespace

TEST_CASE("threads: what one asks another hears, and waking stays below sixty a second")
{
    const auto sound = std::make_shared<ScriptedSound>();
    sound->say(live());
    std::atomic<int> wakes{0};
    LiveCoach coach{ScriptedSound::ports(sound), [&wakes] { ++wakes; }};
    const auto begin = std::chrono::steady_clock::now();
    coach.start();
    coach.post(BeginDrill{});
    std::size_t frames = 0;
    bool ready = false;
    const std::vector<float> tenth(4'800, 0.001f);
    for (int i = 0; i < 10; ++i) {
        sound->hear(tenth, {i * 4'800});
        std::this_thread::sleep_for(std::chrono::milliseconds{50});
        for (const Update& update : coach.take_updates()) {
            if (std::holds_alternative<FrameHeard>(update)) ++frames;
            const auto* changed = std::get_if<StageChanged>(&update);
            if (changed && changed->stage == Stage::ready) ready = true;
        }
    }
    coach.stop();
    for (const Update& update : coach.take_updates()) {
        if (std::holds_alternative<FrameHeard>(update)) ++frames;
    }
    const Seconds taken = std::chrono::steady_clock::now() - begin;
    CHECK(ready);
    CHECK(frames == 100);
    CHECK(wakes > 0);
    CHECK(wakes <= 60.0 * taken.count() + 1.0);
}

TEST_CASE("threads: stopping takes less than a second, again and again, started or not")
{
    for (int i = 0; i < 10; ++i) {
        const auto sound = std::make_shared<ScriptedSound>();
        LiveCoach coach{ScriptedSound::ports(sound), {}};
        if (i % 2 == 0) coach.start();
        const auto begin = std::chrono::steady_clock::now();
        coach.stop();
        coach.stop();
        CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds{1});
    }
}

TEST_CASE("threads: a reader that stays away misses frames alone, and memory stays bounded")
{
    const auto sound = std::make_shared<ScriptedSound>();
    sound->say(live());
    sound->hear(std::vector<float>(65 * 48'000, 0.001f), {});  // 6 500 hops
    LiveCoach coach{ScriptedSound::ports(sound), {}};
    coach.start();
    while (sound->blocks_left() > 0) std::this_thread::sleep_for(std::chrono::milliseconds{5});
    coach.post(PauseListening{});
    coach.stop();
    std::size_t frames = 0;
    for (const Update& update : coach.take_updates()) {
        if (std::holds_alternative<FrameHeard>(update)) ++frames;
    }
    CHECK(frames == 6'000);
}

TEST_CASE("threads: a hold under way when the coach is stopped is judged, and can still be taken")
{
    constexpr SampleRate kRate{48'000.0};
    const auto sound = std::make_shared<ScriptedSound>();
    sound->say(live());
    sound->hear(SignalScript{kRate, 3}
                    .silence(1s)
                    .voice({.f0 = steady(frequency_of(kF4))}, 3s)
                    .with_noise(NoiseKind::white, Dbfs{-70.0})
                    .build()
                    .samples,
                {});
    LiveCoach coach{ScriptedSound::ports(sound), {}};
    coach.post(BeginDrill{});
    coach.start();
    while (sound->blocks_left() > 0) std::this_thread::sleep_for(std::chrono::milliseconds{5});
    coach.stop();
    std::vector<Hold> holds;
    for (const Update& update : coach.take_updates()) {
        if (const auto* trial = std::get_if<TrialFinished>(&update)) holds.push_back(trial->hold);
    }
    REQUIRE(holds.size() == 1);
    const Seconds held = duration_of(holds.front().offset - holds.front().onset, kRate);
    CHECK(std::abs(held.count() - 3.0) < 0.1);
}
