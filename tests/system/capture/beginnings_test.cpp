#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iterator>

#include <fcntl.h>
#include <unistd.h>

#include "app/audio/devices.h"
#include "tests/system/capture/long_hold.h"
#include "tests/system/capture/sound_server.h"
#include "tests/system/capture/watched_coach.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

// What is written to descriptor 2 while it lives, by whatever library.
class TerminalWatch {
public:
    explicit TerminalWatch(std::string file) : file_{std::move(file)}, saved_{dup(STDERR_FILENO)}
    {
        const int caught = open(file_.c_str(), O_CREAT | O_TRUNC | O_WRONLY, 0600);
        dup2(caught, STDERR_FILENO);
        close(caught);
    }
    ~TerminalWatch() { restore(); }
    TerminalWatch(const TerminalWatch&) = delete;
    TerminalWatch& operator=(const TerminalWatch&) = delete;

    std::string text()
    {
        restore();
        std::ifstream in{file_};
        return {std::istreambuf_iterator<char>{in}, {}};
    }

private:
    void restore()
    {
        if (saved_ < 0) return;
        dup2(saved_, STDERR_FILENO);
        close(saved_);
        saved_ = -1;
    }
    std::string file_;
    int saved_;
};

}  // namespace

TEST_CASE(
    "without any device the coach says so, plays no note, and begins by itself when one comes")
{
    SoundServer server;  // not started
    WatchedCoach watched;
    watched.coach().start();
    watched.coach().post(BeginDrill{Drill{}});
    REQUIRE(watched.wait_for_state(CaptureState::no_device, 3s));
    CHECK(watched.last_change().message ==
          "No microphone was found. Plug one in, and it will be used at once.");
    watched.coach().post(HearNote{});
    CHECK(watched.wait_for(
        [](const Update& update) {
            const auto* changed = std::get_if<CaptureChanged>(&update);
            return changed && changed->message ==
                                  "The note could not be played, as no loudspeaker was found. You "
                                  "can sing without it.";
        },
        3s));
    require(server.start());
    CHECK(watched.wait_for_state(CaptureState::live, 4s));
    watched.coach().stop();
}

TEST_CASE("the note to match is heard at its pitch by the microphone beside the loudspeaker")
{
    SoundServer server;
    require(server.start());
    WatchedCoach watched;
    watched.coach().start();
    watched.coach().post(BeginDrill{Drill{}});
    REQUIRE(watched.wait_for_state(CaptureState::live, 4s));
    watched.coach().post(HearNote{});
    int frames_on_pitch = 0;
    const auto ready = watched.wait_for(
        [&](const Update& update) {
            const auto* frame = std::get_if<FrameHeard>(&update);
            if (frame && frame->reading.f0) {
                const Cents off = interval_between(frequency_of(kF4), *frame->reading.f0);
                if (std::abs(off.value) < 1.0) ++frames_on_pitch;
            }
            const auto* changed = std::get_if<StageChanged>(&update);
            return changed && changed->stage == Stage::ready && frames_on_pitch > 0;
        },
        8s);
    REQUIRE(ready);
    MESSAGE(frames_on_pitch, " frames on the note");
    CHECK(frames_on_pitch > 80);
    CHECK_FALSE(watched.first<TrialFinished>());  // our own note is no trial
    watched.coach().stop();
}

TEST_CASE("the microphones are listed with what they can do, the system's own choice first")
{
    SoundServer server;
    require(server.start());
    const Result<MicrophoneList> found = list_microphones();
    REQUIRE_MESSAGE(found.has_value(), (found ? "" : found.error().message));
    const auto& devices = found.value().devices;
    REQUIRE(devices.size() == 2);  // the two names of the server's ALSA configuration
    CHECK(devices[0].name == "default");
    CHECK(devices[0].is_default);
    CHECK(devices[1].name == "pulse");
    CHECK_FALSE(devices[1].is_default);
    for (const InputDevice& device : devices) {
        CHECK(device.channels >= 1);
        const std::vector<SampleRate> expected{{44'100.0}, {48'000.0}};
        CHECK(device.rates == expected);
    }
    CHECK(found.value().chosen.empty());
}

TEST_CASE("a sound configuration without any device is one sentence, not a crash")
{
    SoundServer server;
    setenv("ALSA_CONFIG_PATH", "/dev/null", 1);
    const Result<MicrophoneList> found = list_microphones();
    REQUIRE_FALSE(found.has_value());
    CHECK(found.error().message == "The sound settings of this computer name no device; please "
                                   "have the ALSA configuration looked at.");
}

TEST_CASE("a chosen microphone is remembered, and one that is missing is replaced with a remark")
{
    SoundServer server;
    require(server.start());
    {
        WatchedCoach watched;
        watched.coach().start(ChooseMicrophone{"pulse"});
        REQUIRE(watched.wait_for_state(CaptureState::live, 4s));
        CHECK(watched.last_change().device == "pulse");
        CHECK(watched.last_change().message.empty());
    }
    {
        WatchedCoach watched;
        watched.coach().start();
        REQUIRE(watched.wait_for_state(CaptureState::live, 4s));
        CHECK(watched.last_change().device == "pulse");
        watched.coach().post(ChooseMicrophone{"a microphone left at home"});
        REQUIRE(watched.wait_for_state(CaptureState::live, 4s));
        CHECK(watched.last_change().device == "default");
        CHECK(watched.last_change().message ==
              "The microphone \"a microphone left at home\" cannot be used at the moment, so "
              "\"default\" is listening.");
    }
}

TEST_CASE("the sound libraries write nothing on the terminal, not even when the server dies")
{
    SoundServer server;
    TerminalWatch terminal{server.folder() + "/terminal.txt"};
    {
        WatchedCoach watched;
        watched.coach().start();
        CHECK(watched.wait_for_state(CaptureState::no_device, 3s));
        require(server.start());
        CHECK(watched.wait_for_state(CaptureState::live, 4s));
        server.kill();
        CHECK(watched.wait_for_state(CaptureState::lost, 3s));
        wait(1200ms);
    }
    CHECK(terminal.text() == "");
}
