// A microphone that is changed behind our back. A sound server moves whoever listens to another
// source, at a person's wish or because a device was unplugged, and tells neither ALSA nor
// PortAudio: the stream stays the same, its device is still called by the name of the server's own
// choice, and what was never captured in between is not counted by anybody. That it was moved
// cannot be known; what can be heard of it is asked for here.

#include <doctest/doctest.h>

#include <cmath>

#include "tests/support/signal_script.h"
#include "tests/system/capture/long_hold.h"
#include "tests/system/capture/sound_server.h"
#include "tests/system/capture/watched_coach.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr SampleRate kRate{48'000.0};

void wait_for_hold(WatchedCoach& watched, Seconds so_far)
{
    REQUIRE(watched.wait_for(
        [so_far](const Update& update) {
            const auto* frame = std::get_if<FrameHeard>(&update);
            return frame && frame->under_way && frame->under_way->so_far > so_far;
        },
        6s));
}

// A coach that hears a hold on the default source, while there is another.
void begin_listening(SoundServer& server, WatchedCoach& watched)
{
    require(server.start());
    require(server.add_sink("other"));
    watched.coach().start();
    watched.coach().post(BeginDrill{Drill{}});
    REQUIRE(watched.wait_for_state(CaptureState::live, 4s));
    require(server.play(long_hold()));
    wait_for_hold(watched, 1200ms);
}

Seconds length_of(const TrialFinished& trial)
{
    return duration_of(trial.hold.offset - trial.hold.onset, kRate);
}

}  // namespace

TEST_CASE(
    "moved to a silent source in the middle of a hold: it ends there, and the silence is said")
{
    SoundServer server;
    WatchedCoach watched;
    begin_listening(server, watched);
    const Seconds moving = time_taken([&] { require(server.move_listeners_to("other.monitor")); });
    REQUIRE(watched.wait_for_state(CaptureState::muted, 4s));
    CHECK(watched.last_change().message.starts_with("The microphone sends only silence."));
    // What was heard before is kept, and nothing is added to it.
    const auto trial = watched.first<TrialFinished>();
    REQUIRE(trial);
    MESSAGE("a hold of ", length_of(*trial).count(), " s, moved within ", moving.count(), " s");
    CHECK(length_of(*trial) > 1200ms);
    CHECK(length_of(*trial) < 1200ms + moving + 1s);
    watched.coach().stop();
}

TEST_CASE("a device that goes while another is there: the voice is heard on, and kept at the end")
{
    SoundServer server;
    WatchedCoach watched;
    begin_listening(server, watched);
    // Listener and singer are both moved to the other sink, within about 60 ms: a hole that may
    // stay below what is noticed (StreamHealth, DriftCheck).
    require(server.remove_default_sink());
    wait_for_hold(watched, 3s);
    CHECK_FALSE(watched.first<TrialFinished>());
    server.kill();
    REQUIRE(watched.wait_for_state(CaptureState::lost, 4s));
    const auto trial = watched.first<TrialFinished>();
    REQUIRE(trial);
    CHECK(length_of(*trial) > 3s);
    CHECK(trial->hold.ended_by == HoldEnd::stream_ended);
    watched.coach().stop();
}
