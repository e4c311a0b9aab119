// What the microphone hears, held against what `holdwell measure` makes of the same recording: the
// program as it is delivered, in a process of its own.

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

#include "tests/support/signal_script.h"
#include "tests/system/capture/one_rate.h"
#include "tests/system/capture/sound_server.h"
#include "tests/system/capture/watched_coach.h"
#include "tests/system/window/display.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

Recording sung_hold(SampleRate rate, Hertz f0, Seconds length)
{
    const ScriptedTake take = SignalScript{rate, 11}
                                  .silence(1s)
                                  .voice({.f0 = steady(f0),
                                          .jitter_percent = 0.3,
                                          .shimmer_percent = 1.5,
                                          .hnr = Decibels{25.0}},
                                         length)
                                  .silence(1500ms)
                                  .with_noise(NoiseKind::white, Dbfs{-70.0})
                                  .build();
    return {.samples = take.samples, .sample_rate = rate};
}

struct OnFile {
    Seconds length;
    Hertz f0;
};

// The one hold that the program finds in the file; keys as in the manual (assets/holdwell.1).
OnFile measured_by_program(const std::string& file, const Drill& drill)
{
    const std::string out = file + ".json";
    Process program{{HOLDWELL_PROGRAM, "measure", "--format", "json", "--drill", "hold", "--target",
                     name_of(drill.target), file},
                    out,
                    {}};
    REQUIRE(program.wait(std::chrono::seconds{30}) == 0);
    const auto read = nlohmann::json::parse(text_of(out));
    const auto& holds = read.is_array() ? read.at(0).at("holds") : read.at("holds");
    REQUIRE(holds.size() == 1);
    return {.length = Seconds{holds[0].at("duration_s").get<double>()},
            .f0 = Hertz{holds[0].at("f0_median_hz").get<double>()}};
}

// The sound server's rate is the recording's, and the only one that the microphone takes.
void check_live_against_file(SampleRate rate, Note note)
{
    Drill drill;
    drill.target = note;
    const Recording recording = sung_hold(rate, frequency_of(note), 3s);
    SoundServer server{rate};
    const OnlyRate only{rate};
    const Outcome started = server.start();
    REQUIRE_MESSAGE(started.has_value(), (started ? "" : started.error().message));

    WatchedCoach watched;
    watched.coach().start();
    watched.coach().post(BeginDrill{drill});
    REQUIRE(watched.wait_for_state(CaptureState::live, 4s));
    REQUIRE(watched.last_change().sample_rate == rate);
    REQUIRE(server.play(recording));
    REQUIRE(watched.wait_for(
        [](const Update& u) { return std::holds_alternative<TrialFinished>(u); }, 9s));
    const Hold live = watched.first<TrialFinished>()->hold;
    watched.coach().stop();

    const std::string name = server.folder() + "/sung.wav";
    REQUIRE(write_recording(name, recording, Encoding::wav_float));
    const OnFile file = measured_by_program(name, drill);
    const Seconds live_length = duration_of(live.offset - live.onset, rate);
    MESSAGE("hold ", live_length.count(), " s live, ", file.length.count(), " s in the file");
    CHECK(std::abs((live_length - file.length).count()) < 0.030);
    REQUIRE(live.f0_median);
    const Cents apart = interval_between(file.f0, *live.f0_median);
    MESSAGE("f0 ", apart.value, " cents apart");
    CHECK(std::abs(apart.value) < 1.0);
    CHECK_FALSE(live.has_gap);
    CHECK_FALSE(watched.first<SamplesLost>());
}

}  // namespace

TEST_CASE("a hold heard at 48 kHz is the hold that `holdwell measure` finds in the recording of it")
{
    check_live_against_file(SampleRate{48'000.0}, kF4);
}

TEST_CASE(
    "a hold heard at 44.1 kHz is the hold that `holdwell measure` finds in the recording of it")
{
    check_live_against_file(SampleRate{44'100.0}, Note{55});  // G3
}
