#include <doctest/doctest.h>

#include <cmath>

#include "app/engine/sound_cutter.h"
#include "tests/support/signal_script.h"
#include "tests/system/capture/long_hold.h"
#include "tests/system/capture/sound_server.h"
#include "tests/system/capture/watched_coach.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr SampleRate kRate{48'000.0};
constexpr Seconds kNoticed{2.0};  // a loss is to be said within this time

// A coach on the microphone, hearing a hold that has been going on for more than a second.
void begin_listening(SoundServer& server, WatchedCoach& watched)
{
    require(server.start());
    watched.coach().start();
    watched.coach().post(BeginDrill{Drill{}});
    REQUIRE(watched.wait_for_state(CaptureState::live, 4s));
    require(server.play(long_hold()));
    REQUIRE(watched.wait_for(
        [](const Update& update) {
            const auto* frame = std::get_if<FrameHeard>(&update);
            return frame && frame->under_way && frame->under_way->so_far > 1200ms;
        },
        6s));
}

void check_said(const WatchedCoach& watched)
{
    MESSAGE(watched.last_change().message);
    CHECK(watched.last_change().message.size() > 20);
    CHECK(watched.last_change().message.back() == '.');
}

}  // namespace

TEST_CASE("a sound server that dies is noticed within two seconds, and listening resumes with it")
{
    SoundServer server;
    WatchedCoach watched;
    begin_listening(server, watched);

    server.kill();
    const auto noticed = watched.wait_for_state(CaptureState::lost, 4s);
    REQUIRE(noticed);
    MESSAGE("noticed after ", noticed->count(), " s");
    CHECK(*noticed < kNoticed);
    check_said(watched);
    // What was heard is kept: the hold under way ended with the stream.
    const auto trial = watched.first<TrialFinished>();
    REQUIRE(trial);
    CHECK(trial->hold.ended_by == HoldEnd::stream_ended);
    CHECK(duration_of(trial->hold.offset - trial->hold.onset, kRate) > 1s);

    require(server.start());
    const auto resumed = watched.wait_for_state(CaptureState::live, 5s);
    REQUIRE(resumed);
    MESSAGE("resumed after ", resumed->count(), " s");
    CHECK(watched.last_change().message.empty());
    // The drill goes on without being asked for again.
    require(server.play(long_hold()));
    CHECK(watched.wait_for(
        [](const Update& update) {
            const auto* frame = std::get_if<FrameHeard>(&update);
            return frame && frame->under_way && frame->under_way->so_far > 500ms;
        },
        5s));
    CHECK(time_taken([&] { watched.coach().stop(); }) < 1s);
}

TEST_CASE("a suspended source is noticed within two seconds, and stopping does not hang")
{
    SoundServer server;
    WatchedCoach watched;
    begin_listening(server, watched);

    require(server.control({"suspend-sink", "testsink", "1"}));
    const auto noticed = watched.wait_for_state(CaptureState::lost, 4s);
    REQUIRE(noticed);
    MESSAGE("noticed after ", noticed->count(), " s");
    CHECK(*noticed < kNoticed);
    check_said(watched);
    CHECK(watched.first<TrialFinished>());
    const Seconds stopping = time_taken([&] { watched.coach().stop(); });
    MESSAGE("stopped in ", stopping.count(), " s");
    CHECK(stopping < 1s);
}

TEST_CASE("a frozen sound server is noticed within two seconds, and stopping does not hang")
{
    SoundServer server;
    WatchedCoach watched;
    begin_listening(server, watched);

    server.freeze();
    const auto noticed = watched.wait_for_state(CaptureState::lost, 4s);
    const Seconds stopping = time_taken([&] { watched.coach().stop(); });
    server.thaw();
    REQUIRE(noticed);
    MESSAGE("noticed after ", noticed->count(), " s, stopped in ", stopping.count(), " s");
    CHECK(*noticed < kNoticed);
    check_said(watched);
    CHECK(stopping < 1s);
}

TEST_CASE("a frozen sound server that comes to itself is listened to again")
{
    SoundServer server;
    WatchedCoach watched;
    begin_listening(server, watched);

    server.freeze();
    const auto noticed = watched.wait_for_state(CaptureState::lost, 4s);
    wait(1s);
    server.thaw();
    REQUIRE(noticed);
    CHECK(watched.wait_for_state(CaptureState::live, 5s));
    CHECK(time_taken([&] { watched.coach().stop(); }) < 1s);
}

TEST_CASE("a muted microphone is noticed within two seconds, and so is its return")
{
    SoundServer server;
    WatchedCoach watched;
    begin_listening(server, watched);

    require(server.control({"set-source-mute", "testsink.monitor", "1"}));
    const auto noticed = watched.wait_for_state(CaptureState::muted, 4s);
    REQUIRE(noticed);
    MESSAGE("noticed after ", noticed->count(), " s");
    CHECK(*noticed < kNoticed);
    check_said(watched);
    require(server.control({"set-source-mute", "testsink.monitor", "0"}));
    CHECK(watched.wait_for_state(CaptureState::live, 2s));
    watched.coach().stop();
}

TEST_CASE("a hole in the sound is a gap of its true length, never a splice")
{
    SoundServer server;
    WatchedCoach watched;
    begin_listening(server, watched);

    const auto before = std::chrono::steady_clock::now();
    require(server.control({"suspend-sink", "testsink", "1"}));
    wait(500ms);
    require(server.control({"suspend-sink", "testsink", "0"}));
    const Seconds hole = std::chrono::steady_clock::now() - before;
    REQUIRE(watched.wait_for([](const Update& u) { return std::holds_alternative<SamplesLost>(u); },
                             3s));
    const Seconds lost = duration_of(watched.first<SamplesLost>()->count, kRate);
    MESSAGE("a hole of ", hole.count(), " s counted as ", lost.count(), " s");
    // The two commands take up to a tenth of a second each until they act.
    CHECK(std::abs((lost - hole).count()) < 0.15);
    watched.coach().stop();
}

TEST_CASE("a model with a hole shortly before its end is refused, though the hole is noticed later")
{
    SoundServer server;
    require(server.start());
    WatchedCoach watched;
    watched.coach().start();
    REQUIRE(watched.wait_for_state(CaptureState::live, 4s));
    watched.coach().post(CaptureModel{.kind = DrillKind::warm_up_hold, .note = kF4});
    const ScriptedTake take = SignalScript{kRate, 5}
                                  .silence(500ms)
                                  .voice({.f0 = steady(frequency_of(kF4))}, 3s)
                                  .silence(3s)
                                  .with_noise(NoiseKind::white, Dbfs{-70.0})
                                  .build();
    require(server.play({.samples = take.samples, .sample_rate = kRate}));
    int voiced = 0;
    REQUIRE(watched.wait_for(
        [&voiced](const Update& update) {
            const auto* frame = std::get_if<FrameHeard>(&update);
            if (frame && is_voice(frame->reading.phonation)) ++voiced;
            return voiced == 270;  // of 300
        },
        8s));
    require(server.control({"suspend-sink", "testsink", "1"}));
    wait(400ms);
    require(server.control({"suspend-sink", "testsink", "0"}));
    REQUIRE(watched.wait_for(
        [](const Update& update) { return std::holds_alternative<ModelCaptured>(update); }, 6s));
    CHECK(watched.first<ModelCaptured>()->trouble == kModelNotWhole);
    CHECK(watched.first<ModelCaptured>()->flac.empty());
    watched.coach().stop();
}
