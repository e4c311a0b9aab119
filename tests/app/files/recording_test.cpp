#include "app/files/recording.h"

#include <doctest/doctest.h>

#include <fmt/format.h>
#include <sndfile.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <limits>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include "tests/app/files/scratch_folder.h"
#include "tests/app/files/wav_bytes.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

Recording sine(Seconds length)
{
    Recording recording{.samples = {}, .sample_rate = {48'000.0}};
    const auto count = samples_in(length, recording.sample_rate).value;
    for (std::int64_t i = 0; i < count; ++i) {
        const double phase = 2.0 * std::numbers::pi * 440.0 * static_cast<double>(i) / 48'000.0;
        recording.samples.push_back(static_cast<float>(0.5 * std::sin(phase)));
    }
    return recording;
}

Recording noise(Seconds length)
{
    std::mt19937 random{1};
    std::normal_distribution<float> sample{0.0F, 0.1F};
    Recording recording{.samples = {}, .sample_rate = {48'000.0}};
    recording.samples.resize(
        static_cast<std::size_t>(samples_in(length, recording.sample_rate).value));
    for (float& v : recording.samples) v = sample(random);
    return recording;
}

void write_ogg(const std::string& path, const Recording& recording, int codec)
{
    SF_INFO info{};
    info.channels = 1;
    info.samplerate = 48'000;
    info.format = SF_FORMAT_OGG | codec;
    SNDFILE* sound = sf_open(path.c_str(), SFM_WRITE, &info);
    REQUIRE(sound != nullptr);
    // In pieces: the encoder of some versions runs out of stack on a long one.
    constexpr std::size_t kPiece = 4'800;
    const float* from = recording.samples.data();
    for (std::size_t left = recording.samples.size(); left > 0;) {
        const std::size_t count = std::min(left, kPiece);
        REQUIRE(sf_write_float(sound, from, static_cast<sf_count_t>(count)) ==
                static_cast<sf_count_t>(count));
        from += count;
        left -= count;
    }
    sf_close(sound);
}

double largest_difference(const std::vector<float>& a, const std::vector<float>& b)
{
    REQUIRE(a.size() == b.size());
    double largest = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i)
        largest =
            std::max(largest, std::abs(static_cast<double>(a[i]) - static_cast<double>(b[i])));
    return largest;
}

}  // namespace

TEST_CASE("what is written is read back, to the last bit that the encoding keeps")
{
    struct Row {
        const char* file;
        Encoding encoding;
        double step;  // of the encoding: 2 / 2^bits
    };
    const Row rows[] = {
        {"a.wav", Encoding::wav_16_bit, 2.0 / 65'536.0},
        {"b.wav", Encoding::wav_24_bit, 2.0 / 16'777'216.0},
        {"c.wav", Encoding::wav_float, 0.0},
        {"d.flac", Encoding::flac_16_bit, 2.0 / 65'536.0},
        {"e.flac", Encoding::flac_24_bit, 2.0 / 16'777'216.0},
    };
    const ScratchFolder folder;
    const Recording original = sine(250ms);
    for (const Row& row : rows) {
        CAPTURE(row.file);
        const std::string path = folder.path(row.file);
        REQUIRE(write_recording(path, original, row.encoding));
        const auto read = read_recording(path);
        REQUIRE(read.has_value());
        CHECK(read.value().sample_rate == original.sample_rate);
        CHECK_FALSE(read.value().shortfall.has_value());
        CHECK(largest_difference(read.value().samples, original.samples) <= row.step);
    }
}

TEST_CASE("a WAV and an AIFF file laid out by hand are read sample by sample")
{
    const ScratchFolder folder;
    const std::vector<int> values{0, 16'384, -16'384, 32'767, -32'768};
    const std::vector<float> expected{0.0F, 0.5F, -0.5F, 32'767.0F / 32'768.0F, -1.0F};
    for (const std::string& path : {folder.file("x.wav", wav_bytes({}, pcm16(values))),
                                    folder.file("x.aiff", aiff_bytes(values))}) {
        CAPTURE(path);
        const auto read = read_recording(path);
        REQUIRE(read.has_value());
        CHECK(read.value().samples == expected);
        CHECK(read.value().sample_rate == SampleRate{48'000.0});
    }
}

TEST_CASE("of several channels the one with the most energy is read")
{
    const ScratchFolder folder;
    std::vector<int> interleaved;
    for (int i = 0; i < 20'000; ++i) {
        interleaved.push_back(100);
        interleaved.push_back(i % 2 == 0 ? 3000 : -3000);
        interleaved.push_back(-200);
    }
    const std::string path =
        folder.file("three.wav", wav_bytes({.channels = 3}, pcm16(interleaved)));
    const auto opened = RecordingReader::open(path);
    REQUIRE(opened.has_value());
    CHECK(opened.value().format().channels == 3);
    CHECK(opened.value().format().channel == 1);
    const auto read = read_recording(path);
    REQUIRE(read.has_value());
    REQUIRE(read.value().samples.size() == 20'000);
    CHECK(read.value().samples[2] == 3000.0F / 32'768.0F);
    CHECK(read.value().samples[19'999] == -3000.0F / 32'768.0F);
}

TEST_CASE("blocks of any size give the same samples")
{
    const ScratchFolder folder;
    const std::string path = folder.path("sine.flac");
    REQUIRE(write_recording(path, sine(300ms), Encoding::flac_24_bit));
    const auto whole = read_recording(path);
    REQUIRE(whole.has_value());
    for (const std::size_t size : {1U, 7U, 480U, 4096U, 100'000U}) {
        CAPTURE(size);
        auto opened = RecordingReader::open(path);
        REQUIRE(opened.has_value());
        std::vector<float> joined;
        std::vector<float> block(size);
        while (const std::size_t got = opened.value().read(block))
            joined.insert(joined.end(), block.begin(),
                          block.begin() + static_cast<std::ptrdiff_t>(got));
        CHECK(joined == whole.value().samples);
    }
}

TEST_CASE("samples that are no numbers are read as silence and counted")
{
    const ScratchFolder folder;
    constexpr float kNan = std::numeric_limits<float>::quiet_NaN();
    constexpr float kInfinity = std::numeric_limits<float>::infinity();
    const std::string path = folder.file(
        "nan.wav", wav_bytes({.format = 3, .bits = 32}, floats({0.25F, kNan, -0.5F, -kInfinity})));
    const auto read = read_recording(path);
    REQUIRE(read.has_value());
    CHECK(read.value().samples == std::vector<float>{0.25F, 0.0F, -0.5F, 0.0F});
    CHECK(read.value().replaced == SampleCount{2});
    CHECK(sentence_on_replaced("nan.wav", {2}) ==
          "nan.wav: 2 samples are no number and were read as silence; record it again if that "
          "matters");
    CHECK(sentence_on_replaced("nan.wav", {1}) ==
          "nan.wav: 1 sample is no number and was read as silence; record it again if that "
          "matters");
    CHECK_FALSE(sentence_on_replaced("nan.wav", {0}).has_value());
}

TEST_CASE("a recording that stops before its promised end is read as far as it goes, and said so")
{
    const ScratchFolder folder;
    const std::string second(96'000, '\1');  // one second of 16 bits at 48 000
    const std::string path = folder.file("cut.wav", wav_bytes({.sound_bytes = 960'000}, second));
    const auto read = read_recording(path);
    REQUIRE(read.has_value());
    CHECK(read.value().samples.size() == 48'000);
    REQUIRE(read.value().shortfall.has_value());
    CHECK(*read.value().shortfall ==
          path + ": stops after 1.0 s although it says it is 10.0 s long; copy or record it again");
}

TEST_CASE("a length left open by a program that writes to a pipe is no fault")
{
    const ScratchFolder folder;
    const std::string path =
        folder.file("open.wav", wav_bytes({.sound_bytes = 0xFFFF'FFFFU}, std::string(9'600, '\1')));
    const auto read = read_recording(path);
    REQUIRE(read.has_value());
    CHECK(read.value().samples.size() == 4'800);
    CHECK_FALSE(read.value().shortfall.has_value());
}

TEST_CASE("a FLAC file cut in half is read as far as it goes, and said so")
{
    const ScratchFolder folder;
    const std::string path = folder.path("whole.flac");
    REQUIRE(write_recording(path, sine(2s), Encoding::flac_24_bit));
    std::filesystem::resize_file(path, std::filesystem::file_size(path) / 2);
    const auto read = read_recording(path);
    REQUIRE(read.has_value());
    CHECK(read.value().samples.size() < 96'000);
    REQUIRE(read.value().shortfall.has_value());
    CHECK(read.value().shortfall->find("although it says it is 2.0 s long") != std::string::npos);
}

TEST_CASE("an OGG file cut in half is read as far as it goes, and said to lack its end")
{
    const ScratchFolder folder;
    for (const int codec : {SF_FORMAT_VORBIS, SF_FORMAT_OPUS}) {
        CAPTURE(codec);
        const std::string path = folder.path("whole.ogg");
        write_ogg(path, noise(6s), codec);  // fills more pages than a sine
        const auto whole = read_recording(path);
        REQUIRE(whole.has_value());
        CHECK(whole.value().samples.size() == 6 * 48'000);
        CHECK_FALSE(whole.value().shortfall.has_value());

        std::filesystem::resize_file(path, std::filesystem::file_size(path) / 2);
        const auto read = read_recording(path);
        REQUIRE(read.has_value());
        CHECK(read.value().samples.size() < 6 * 48'000);
        REQUIRE(read.value().shortfall.has_value());
        const double length = static_cast<double>(read.value().samples.size()) / 48'000.0;
        CHECK(*read.value().shortfall ==
              fmt::format("{}: stops after {:.1f} s, before its end; copy or record it again", path,
                          length));
    }
}

TEST_CASE("a FLAC file that does not say its length, as written to a pipe, is no fault")
{
    // STREAMINFO's total samples, 0 for unknown: the low half of byte 21 and bytes 22 to 25
    // (RFC 9639, section 8.2).
    const ScratchFolder folder;
    const std::string path = folder.path("open.flac");
    REQUIRE(write_recording(path, sine(1s), Encoding::flac_24_bit));
    std::fstream file{path, std::ios::binary | std::ios::in | std::ios::out};
    file.seekg(21);
    const char high = static_cast<char>(file.get() & 0xF0);
    file.seekp(21);
    file << high << std::string(4, '\0') << std::flush;
    const auto read = read_recording(path);
    REQUIRE(read.has_value());
    CHECK(read.value().samples.size() == 48'000);
    CHECK_FALSE(read.value().shortfall.has_value());
    CHECK_FALSE(RecordingReader::open(path).value().format().length.has_value());
}

TEST_CASE("writing where one may not write is one sentence")
{
    const Recording recording{.samples = {0.0F}, .sample_rate = {48'000.0}};
    const auto outcome = write_recording("/no/such/folder/a.wav", recording, Encoding::wav_16_bit);
    REQUIRE_FALSE(outcome.has_value());
    CHECK(outcome.error().message ==
          "/no/such/folder/a.wav: cannot be written; check the folder and its permissions");
}
