#include <doctest/doctest.h>

#include <memory>
#include <string>

#include "tests/app/cli/session.h"
#include "tests/app/files/scratch_folder.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

// A sound system without any microphone.
class NoMicrophone final : public AudioSource {
public:
    bool try_take(AudioBlock&) override { return false; }
    SourceStatus status() override
    {
        SourceStatus status;
        status.state = CaptureState::no_device;
        status.message = "No microphone was found.";
        return status;
    }
};

SoundPorts ports_without_microphone()
{
    SoundPorts ports;
    ports.open_microphone = [](const std::string&) { return std::make_unique<NoMicrophone>(); };
    ports.open_recording = [](const std::string& path) -> Result<std::unique_ptr<AudioSource>> {
        return Error{path + ": there is no such file; check its name and folder"};
    };
    ports.play_tone = [](const ToneRequest&) {};
    ports.look_for_microphones = [] {};
    ports.take_news = [] { return SoundNews{}; };
    ports.remembered_microphone = [] { return std::string{}; };
    ports.remember_microphone = [](const std::string&) {};
    return ports;
}

Surroundings without_microphone()
{
    Surroundings around;
    around.sound_ports = ports_without_microphone;
    return around;
}

}  // namespace

TEST_CASE("a recording is coached in plain lines: what to do, what was heard, what it came to")
{
    // 8 s of F4 (the script in session.h); lengths are said to the nearest tenth of a second.
    const ScratchFolder folder;
    const std::string path = folder.path("my hold.wav");
    REQUIRE(
        write_recording(path, note({.length = 8s, .wander = Cents{8.0}}), Encoding::wav_24_bit));
    const Ran ran = run({"coach", "--goal", "6", "--file", path, "--fast"});
    CHECK(ran.status == ExitStatus::ok);
    CHECK(ran.err.empty());
    CHECK(ran.out.starts_with("Holdwell. The note is F4, 349.2 hertz.\n"
                              "Hold it softly; the goal is 6 seconds.\n"
                              "Near enough is within 100 cents, higher or lower.\n"
                              "Listening to " +
                              path +
                              ".\n"
                              "Sing F4 softly when you are ready.\n"
                              "I hear you.\n"
                              "5 seconds, near enough.\n"
                              "6 seconds: the goal. Stop whenever you like.\n"
                              "Held for "));
    CHECK(ran.out.find(" seconds. Goal reached.\nNear the note all the way.\n") !=
          std::string::npos);
    CHECK(ran.out.find("The recording has ended.\nOne hold, of ") != std::string::npos);
    CHECK(ran.out.find('\x1b') == std::string::npos);
}

TEST_CASE("the right note in another octave is said to be that")
{
    const ScratchFolder folder;
    const std::string path = folder.path("low.wav");
    REQUIRE(write_recording(path, note({.f0 = {174.614}, .wander = Cents{8.0}}),
                            Encoding::wav_24_bit));  // F3
    const Ran ran = run({"coach", "--note", "F4", "--file", path, "--fast"});
    CHECK(ran.out.find("That was the right note, one octave lower.\n") != std::string::npos);
}

TEST_CASE("without a microphone the coach says so, offers a recording, and ends")
{
    const Ran ran = run({"coach"}, without_microphone());
    CHECK(ran.status == ExitStatus::trouble);
    CHECK(ran.out.ends_with("No microphone was found.\n"
                            "To see how it works, play a recording: holdwell coach --file FILE\n"));
}

TEST_CASE("a recording that cannot be read ends the coach, fast or not")
{
    const Ran fast = run({"coach", "--fast", "--file", "missing.wav"});
    CHECK(fast.status == ExitStatus::trouble);
    CHECK(fast.err == "missing.wav: there is no such file; check its name and folder\n");
    const Ran slow = run({"coach", "--file", "missing.wav"}, without_microphone());
    CHECK(slow.status == ExitStatus::trouble);
    CHECK(slow.err == fast.err);
}
