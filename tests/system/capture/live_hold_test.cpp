#include <doctest/doctest.h>

#include <cmath>

#include "dsp/listener.h"
#include "tests/support/signal_script.h"
#include "tests/system/capture/sound_server.h"
#include "tests/system/capture/watched_coach.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr SampleRate kRate{48'000.0};

Recording sung_hold(Seconds length)
{
    const ScriptedTake take = SignalScript{kRate, 11}
                                  .silence(1s)
                                  .voice({.f0 = steady(frequency_of(kF4)),
                                          .jitter_percent = 0.3,
                                          .shimmer_percent = 1.5,
                                          .hnr = Decibels{25.0}},
                                         length)
                                  .silence(1500ms)
                                  .with_noise(NoiseKind::white, Dbfs{-70.0})
                                  .build();
    return {.samples = take.samples, .sample_rate = kRate};
}

Hold measured(const Recording& recording, const Drill& drill)
{
    Listener listener{AnalysisConfig{.sample_rate = recording.sample_rate},
                      {.sought = Sought::hold,
                       .target = frequency_of(drill.target),
                       .band = drill.band,
                       .bridge = drill.bridge}};
    listener.push(recording.samples);
    listener.finish();
    const Heard heard = listener.take_finished();
    REQUIRE(heard.holds.size() == 1);
    return heard.holds.front();
}

}  // namespace

TEST_CASE("a hold heard through the microphone is the hold measured in the recording of it")
{
    SoundServer server;
    const Outcome started = server.start();
    REQUIRE_MESSAGE(started.has_value(), started.error().message);
    const Drill drill{};  // F4
    const Recording recording = sung_hold(3s);

    WatchedCoach watched;
    watched.coach().start();
    watched.coach().post(BeginDrill{drill});
    REQUIRE(watched.wait_for_state(CaptureState::live, 4s));
    CHECK(watched.last_change().sample_rate == kRate);
    REQUIRE(server.play(recording));
    REQUIRE(watched.wait_for(
        [](const Update& u) { return std::holds_alternative<TrialFinished>(u); }, 9s));
    const Hold live = watched.first<TrialFinished>()->hold;
    const Hold file = measured(recording, drill);
    const Seconds live_length = duration_of(live.offset - live.onset, kRate);
    const Seconds file_length = duration_of(file.offset - file.onset, kRate);
    MESSAGE("hold ", live_length.count(), " s live, ", file_length.count(), " s in the file");
    CHECK(std::abs((live_length - file_length).count()) < 0.030);
    REQUIRE(live.f0_median);
    REQUIRE(file.f0_median);
    const Cents apart = interval_between(*file.f0_median, *live.f0_median);
    MESSAGE("f0 ", apart.value, " cents apart");
    CHECK(std::abs(apart.value) < 1.0);
    CHECK_FALSE(live.has_gap);
    CHECK_FALSE(watched.first<SamplesLost>());
    watched.coach().stop();
}
