#include <doctest/doctest.h>

#include <cmath>
#include <csignal>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "tests/app/cli/session.h"
#include "tests/app/cli/sounding_file.h"
#include "tests/app/files/scratch_folder.h"
#include "tests/app/files/wav_bytes.h"

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
    SoundPorts ports = silent_ports();
    ports.open_microphone = [](const std::string&) { return std::make_unique<NoMicrophone>(); };
    ports.open_recording = [](const std::string& path) -> Result<std::unique_ptr<AudioSource>> {
        return Error{path + ": there is no such file; check its name and folder"};
    };
    return ports;
}

// What is said while a recording is listened to, fast or as it sounds.
Ran coach_fast(const std::string& path) { return run({"coach", "--file", path, "--fast"}); }
Ran coach_as_it_sounds(const std::string& path)
{
    return run({"coach", "--file", path}, sounding());
}

std::string without_its_end(const ScratchFolder& folder)
{
    const std::string path = folder.path("cut.wav");
    REQUIRE(write_recording(path, note({.wander = Cents{8.0}}), Encoding::wav_24_bit));
    std::filesystem::resize_file(path, std::filesystem::file_size(path) * 7 / 10);
    return path;
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
                              "Listening to my hold.wav.\n"
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

TEST_CASE("threads: fast or as it sounds, a recording is told in the same lines")
{
    const ScratchFolder folder;
    const std::string path = folder.path("my hold.wav");
    REQUIRE(write_recording(path, note({.wander = Cents{8.0}}), Encoding::wav_24_bit));
    const Ran slow = coach_as_it_sounds(path);
    CHECK(slow.status == ExitStatus::ok);
    CHECK(slow.err.empty());
    CHECK(slow.out.find("Listening to my hold.wav.\nSing F4 softly") != std::string::npos);
    CHECK(slow.out.ends_with("The recording has ended.\nOne hold, of 3 seconds.\n"));
    // What comes after the hold depends on how soon the next one can be asked for.
    const std::string fast = coach_fast(path).out;
    const std::size_t end = fast.find("Near the note all the way.\n");
    REQUIRE(end != std::string::npos);
    CHECK(slow.out.substr(0, end) == fast.substr(0, end));
}

TEST_CASE(
    "threads: Ctrl and C, or a terminal that closes, end a hold, which is told before the end")
{
    // The hold begins after 1 s (session.h) and is interrupted 3 s later.
    const ScratchFolder folder;
    const std::string path = folder.path("long.wav");
    REQUIRE(
        write_recording(path, note({.length = 8s, .wander = Cents{8.0}}), Encoding::wav_24_bit));
    for (const int signal : {SIGINT, SIGHUP}) {
        CAPTURE(signal);
        const Ran ran = run({"coach", "--file", path}, sounding({.signal = SignalAt{signal, 4s}}));
        CHECK(ran.status == ExitStatus::ok);
        CHECK(ran.out.find("I hear you.\nHeld for 3 seconds.\n") != std::string::npos);
        CHECK(ran.out.ends_with("\nOne hold, of 3 seconds.\n"));
        CHECK(ran.out.find("Now breathe in.") == std::string::npos);
    }
}

TEST_CASE("threads: what is wrong with a recording is said once, in the words of measure")
{
    const ScratchFolder folder;
    const std::string cut = without_its_end(folder);
    const std::string broken = folder.path("broken.wav");
    Recording with_gaps = note({.wander = Cents{8.0}});
    for (std::size_t i = 100; i < 110; ++i) with_gaps.samples[i] = std::nanf("");
    REQUIRE(write_recording(broken, with_gaps, Encoding::wav_float));
    for (const std::string& path : {cut, broken}) {
        CAPTURE(path);
        const Ran measured = run({"measure", path});
        REQUIRE_FALSE(measured.err.empty());
        for (const Ran& ran : {coach_fast(path), coach_as_it_sounds(path)}) {
            CHECK(ran.status == measured.status);
            CHECK(ran.err == measured.err);
            CHECK(ran.out.find("\nHeld for ") != std::string::npos);
            CHECK(ran.out.find("The recording has ended.\nOne hold, of ") != std::string::npos);
            CHECK(ran.out.find(path) == std::string::npos);
        }
    }
    CHECK(coach_fast(cut).status == ExitStatus::trouble);
    CHECK(coach_fast(broken).status == ExitStatus::ok);
}

TEST_CASE("a recording cut off after the trials that were asked for is cut off all the same")
{
    const ScratchFolder folder;
    const std::string cut = without_its_end(folder);
    const Ran ran = run({"coach", "--file", cut, "--fast", "--trials", "1"});
    CHECK(ran.status == ExitStatus::trouble);
    CHECK(ran.err == run({"measure", cut}).err);
}

TEST_CASE("a recording in which nothing can be heard: one sentence, and no word before it")
{
    const ScratchFolder folder;
    const std::string paths[] = {folder.path("missing.wav"), folder.path(""),
                                 folder.file("header only.wav", wav_bytes({}, "")),
                                 folder.file("no channels.wav", wav_bytes({.channels = 0}, "abcd")),
                                 folder.file("notes.wav", "Tuesday: F4, twice.\n")};
    for (const std::string& path : paths) {
        CAPTURE(path);
        const Ran measured = run({"measure", path});
        for (const Ran& ran : {coach_fast(path), coach_as_it_sounds(path)}) {
            CHECK(ran.status == ExitStatus::trouble);
            CHECK(ran.err == measured.err);
            CHECK(ran.out.empty());
        }
    }
}

TEST_CASE("a name that would steer the terminal is shown in letters")
{
    const ScratchFolder folder;
    const std::string path = folder.path("a\x1b[2Jb.wav");
    REQUIRE(write_recording(path, note({.length = Seconds{1.2}}), Encoding::wav_16_bit));
    const Ran ran = coach_fast(path);
    CHECK(ran.out.find("Listening to a?[2Jb.wav.\n") != std::string::npos);
    CHECK(coach_fast(folder.path("\x1b[2J.wav")).err.find('\x1b') == std::string::npos);
}
