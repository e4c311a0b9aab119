#include "app/audio/replay.h"

#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include <unistd.h>

using namespace holdwell;

namespace {

// A recording of numbered samples, gone with the object.
class NumberedRecording {
public:
    NumberedRecording(int length, SampleRate rate)
        : path_{std::filesystem::temp_directory_path() /
                ("holdwell-replay-" + std::to_string(getpid()) + " \xc3\xa9.wav")}
    {
        Recording recording{.samples = {}, .sample_rate = rate};
        for (int n = 0; n < length; ++n) {
            recording.samples.push_back(static_cast<float>(n % 997) / 1024.0f);
        }
        REQUIRE(write_recording(path_.string(), recording, Encoding::wav_float));
    }
    ~NumberedRecording() { std::filesystem::remove(path_); }
    NumberedRecording(const NumberedRecording&) = delete;
    NumberedRecording& operator=(const NumberedRecording&) = delete;
    std::string path() const { return path_.string(); }
    std::string name() const { return path_.filename().string(); }

private:
    std::filesystem::path path_;
};

}  // namespace

TEST_CASE("a replay hands out each block when its last sample's time has come, and not before")
{
    const NumberedRecording recording{1000, {48'000.0}};
    SteadyTime now{1000s};
    auto opened = Replay::open(recording.path(), [&now] { return now; });
    REQUIRE(opened);
    AudioSource& replay = *opened.value();
    CHECK(replay.status().state == CaptureState::live);
    CHECK(replay.status().device == recording.name());
    CHECK(replay.status().sample_rate == SampleRate{48'000.0});

    AudioBlock block;
    CHECK_FALSE(replay.try_take(block));  // begins now
    now += 9.9ms;
    CHECK_FALSE(replay.try_take(block));
    now += 0.2ms;
    REQUIRE(replay.try_take(block));
    CHECK(block.begin.value == 0);
    CHECK(block.count == 480);
    CHECK_FALSE(replay.try_take(block));
    now += 10ms;
    REQUIRE(replay.try_take(block));
    CHECK(block.begin.value == 480);
    CHECK(replay.status().state == CaptureState::live);
}

TEST_CASE(
    "a replay that was not looked at for a while hands out all that is due, to the last sample")
{
    const NumberedRecording recording{1000, {44'100.0}};
    SteadyTime now{0s};
    auto opened = Replay::open(recording.path(), [&now] { return now; });
    REQUIRE(opened);
    AudioSource& replay = *opened.value();
    AudioBlock block;
    CHECK_FALSE(replay.try_take(block));
    now += 10s;
    std::vector<float> all;
    while (replay.try_take(block)) {
        CHECK(block.begin.value == static_cast<std::int64_t>(all.size()));
        all.insert(all.end(), block.samples.begin(),
                   block.samples.begin() + static_cast<std::ptrdiff_t>(block.count));
    }
    REQUIRE(all.size() == 1000);
    for (std::size_t n = 0; n < all.size(); ++n) {
        CHECK(all[n] == static_cast<float>(n % 997) / 1024.0f);
    }
    CHECK(replay.status().state == CaptureState::recording_ended);
    CHECK(replay.status().message.empty());  // nothing is wrong
}

TEST_CASE("by its own clock a recording of 0.4 s is played in 0.4 s")
{
    const NumberedRecording recording{19'200, {48'000.0}};
    auto opened = Replay::open(recording.path());
    REQUIRE(opened);
    AudioSource& replay = *opened.value();
    const auto begin = std::chrono::steady_clock::now();
    AudioBlock block;
    while (replay.status().state == CaptureState::live) {
        while (replay.try_take(block)) {
        }
        usleep(1000);
    }
    const Seconds taken = std::chrono::steady_clock::now() - begin;
    CHECK(taken >= 400ms);
    CHECK(taken < 500ms);
}

TEST_CASE("a recording that is not there is one sentence with its name")
{
    const auto opened = Replay::open("/nowhere/at all.wav");
    REQUIRE_FALSE(opened.has_value());
    CHECK(opened.error().message.find("at all.wav") != std::string::npos);
}

TEST_CASE("a recording that is cut short is played as far as it goes, and then said to be cut")
{
    const NumberedRecording recording{48'000, {48'000.0}};
    const auto whole = std::filesystem::file_size(recording.path());
    std::filesystem::resize_file(recording.path(), whole / 2);
    SteadyTime now{0s};
    auto opened = Replay::open(recording.path(), [&now] { return now; });
    REQUIRE(opened);
    AudioSource& replay = *opened.value();
    AudioBlock block;
    CHECK_FALSE(replay.try_take(block));
    now += 2s;
    std::size_t heard = 0;
    while (replay.try_take(block)) heard += block.count;
    CHECK(heard > 20'000);
    CHECK(heard < 28'000);
    CHECK(replay.status().state == CaptureState::recording_ended);
    CHECK(replay.status().message.find("stops after 0.5 s") != std::string::npos);
}
