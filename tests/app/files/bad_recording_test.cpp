#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <string>

#include "app/files/recording.h"
#include "tests/app/files/scratch_folder.h"
#include "tests/app/files/standard_error.h"
#include "tests/app/files/wav_bytes.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

// Frames of MPEG 1 layer III without a sound: 128 kbit/s at 44 100 Hz, 417 bytes each (ISO/IEC
// 11172-3, 2.4.2.3 and 2.4.3.1).
std::string mpeg_frames(int count)
{
    std::string frames;
    for (int i = 0; i < count; ++i) frames += "\xff\xfb\x90\x64" + std::string(413, '\0');
    return frames;
}

// An ID3 tag of `length` bytes, below 128, besides its own ten.
std::string id3_tag(std::size_t length)
{
    return std::string{"ID3\x04\0\0\0\0\0", 9} + static_cast<char>(length) +
           std::string(length, '\0');
}

}  // namespace

TEST_CASE("every unreadable recording is one sentence: what is wrong, and what to do")
{
    struct Row {
        const char* file;
        std::string bytes;
        const char* sentence;
    };
    const std::string some(9'600, '\1');
    const char* kNotSound = "is not a WAV, FLAC, OGG or AIFF recording; save it as one of these";
    const char* kDamaged = "is damaged or cut off; copy or record it again";
    const char* kNoSound = "holds no sound; copy or record it again";
    const std::string whole = wav_bytes({}, some);
    const Row rows[] = {
        {"empty.wav", "", "is empty; copy or record it again"},
        {"notes.txt", "Tuesday: F4, twice.\n", kNotSound},
        {"notes.wav", "Tuesday: F4, twice.\n", kNotSound},
        {"one byte.wav", "R", kNotSound},
        {"half a header.wav", whole.substr(0, 20), kDamaged},
        {"header only.wav", whole.substr(0, 44), kNoSound},
        {"no samples.wav", wav_bytes({}, ""), kNoSound},
        {"no channels.wav", wav_bytes({.channels = 0}, some),
         "says it has no channels; save it again as mono"},
        {"1000 channels.wav", wav_bytes({.channels = 1000}, some),
         "has 1000 channels and at most 32 can be read; save it as mono"},
        {"2000 channels.wav", wav_bytes({.channels = 2000}, some),
         "has more than 32 channels; save it as mono"},
        {"slow.wav", wav_bytes({.rate = 4'000}, some),
         "has 4000 samples a second and 8000 to 192000 can be read; save it at 48000"},
        {"fast.wav", wav_bytes({.rate = 384'000}, some),
         "has 384000 samples a second and 8000 to 192000 can be read; save it at 48000"},
        {"sun.au",
         ".snd" + big_endian(24, 4) + big_endian(4, 4) + big_endian(3, 4) + big_endian(48'000, 4) +
             big_endian(1, 4) + "abcd",
         kNotSound},
        {"accents \u00e9\u00fc and spaces.wav", "R", kNotSound},
    };
    const ScratchFolder folder;
    for (const Row& row : rows) {
        CAPTURE(row.file);
        const std::string path = folder.file(row.file, row.bytes);
        const auto read = read_recording(path);
        REQUIRE_FALSE(read.has_value());
        CHECK(read.error().message == path + ": " + row.sentence);
    }
}

TEST_CASE("MPEG sound is refused by its first bytes, whole, cut or damaged, without another word")
{
    const std::string damage(3'000, 'x');
    struct Row {
        const char* file;
        std::string bytes;
        const char* sentence;
    };
    const char* kNotSound = "is not a WAV, FLAC, OGG or AIFF recording; save it as one of these";
    const Row rows[] = {
        {"whole.mp3", mpeg_frames(20), kNotSound},
        {"cut.mp3", mpeg_frames(1).substr(0, 100), kNotSound},
        {"damaged.mp3", mpeg_frames(5) + damage + mpeg_frames(5), kNotSound},
        {"tagged.mp3", id3_tag(20) + mpeg_frames(5) + damage, kNotSound},
        {"called otherwise.wav", mpeg_frames(2) + damage, kNotSound},
        {"inside.wav", wav_bytes({.format = 0x55}, mpeg_frames(5) + damage),
         "is packed in a way that cannot be read; save it as plain WAV or FLAC"},
    };
    const ScratchFolder folder;
    for (const Row& row : rows) {
        CAPTURE(row.file);
        const std::string path = folder.file(row.file, row.bytes);
        std::string message;
        std::string chatter;
        {
            const StandardErrorWatch watch;
            const auto read = read_recording(path);
            if (!read) message = read.error().message;
            chatter = watch.text();
        }
        CHECK(message == path + ": " + row.sentence);
        CHECK(chatter.empty());
    }
}

TEST_CASE("a tag in front of a recording does not hide what it is")
{
    const ScratchFolder folder;
    const std::string path =
        folder.file("tagged.wav", id3_tag(100) + wav_bytes({}, pcm16({1, 2, 3})));
    const auto read = read_recording(path);
    REQUIRE(read.has_value());
    CHECK(read.value().samples.size() == 3);
}

TEST_CASE("a missing file, a folder and a pipe are told apart")
{
    const ScratchFolder folder;
    const auto message_of = [](const std::string& path) {
        const auto opened = RecordingReader::open(path);
        REQUIRE_FALSE(opened.has_value());
        return opened.error().message;
    };
    const std::string missing = folder.path("missing.wav");
    CHECK(message_of(missing) == missing + ": there is no such file; check its name and folder");
    CHECK(message_of(folder.path("")) ==
          folder.path("") + ": is a folder, not a recording; name the recordings inside it");
    const std::string pipe = folder.path("pipe.wav");
    REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
    CHECK(message_of(pipe) == pipe + ": is not an ordinary file; save the sound to a file first");
    const std::string endless = folder.path(std::string(300, 'n'));
    CHECK(message_of(endless) ==
          endless + ": its name is too long; check it, or give it a shorter one");
}

TEST_CASE("a file that its reader has no permission for says so")
{
    const ScratchFolder folder;
    const std::string path = folder.file("private.wav", wav_bytes({}, "abcd"));
    REQUIRE(chmod(path.c_str(), 0) == 0);
    // The superuser may read everything, so the test reads as nobody (uid 65534 on Debian).
    constexpr uid_t kNobody = 65'534;
    const uid_t before = geteuid();
    const bool lowered = before == 0 && seteuid(kNobody) == 0;
    const auto opened = RecordingReader::open(path);
    if (lowered) REQUIRE(seteuid(before) == 0);
    REQUIRE_FALSE(opened.has_value());
    CHECK(opened.error().message ==
          path + ": may not be read by you; ask its owner for permission to read");
}
