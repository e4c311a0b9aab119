#include "tests/reference/rendering.h"

#include <doctest/doctest.h>
#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <filesystem>
#include <fstream>

extern char** environ;

namespace holdwell::test {

namespace {

constexpr const char* kSoundFont = "/usr/share/sounds/sf2/FluidR3_GM.sf2";

Recording rendered(const std::vector<std::string>& words, const std::string& path)
{
    CAPTURE(words.front());
    REQUIRE_MESSAGE(run_program(words), "is the program installed?");
    auto recording = read_recording(path);
    REQUIRE(recording);
    REQUIRE(!recording.value().samples.empty());
    return recording.value();
}

std::string big_endian(std::uint32_t value, int bytes)
{
    std::string text;
    for (int k = bytes - 1; k >= 0; --k)
        text.push_back(static_cast<char>((value >> (8 * k)) & 0xffU));
    return text;
}

// A Standard MIDI File of one track with one note; 480 ticks to the quarter of half a second.
std::string one_note(int program, int midi_note, Seconds length)
{
    const auto ticks = static_cast<std::uint32_t>(length.count() * 960.0);
    const auto byte = [](int value) { return std::string(1, static_cast<char>(value)); };
    // Two seven-bit groups hold up to 17 s.
    const std::string wait =
        byte(static_cast<int>(0x80U | (ticks >> 7U))) + byte(static_cast<int>(ticks & 0x7fU));
    const std::string track = byte(0) + byte(0xc0) + byte(program - 1) + byte(0) + byte(0x90) +
                              byte(midi_note) + byte(100) + wait + byte(0x80) + byte(midi_note) +
                              byte(64) + byte(0) + "\xff\x2f" + byte(0);
    return "MThd" + big_endian(6, 4) + big_endian(0, 2) + big_endian(1, 2) + big_endian(480, 2) +
           "MTrk" + big_endian(static_cast<std::uint32_t>(track.size()), 4) + track;
}

}  // namespace

ScratchFolder::ScratchFolder()
{
    std::string pattern = std::filesystem::temp_directory_path() / "holdwell-XXXXXX";
    REQUIRE(mkdtemp(pattern.data()) != nullptr);
    path_ = pattern;
}

ScratchFolder::~ScratchFolder()
{
    std::error_code ignored;  // nothing can be done about it here
    std::filesystem::remove_all(path_, ignored);
}

std::string ScratchFolder::path_of(const std::string& name) const { return path_ + "/" + name; }

bool run_program(const std::vector<std::string>& words)
{
    std::vector<char*> arguments;
    for (const std::string& w : words) arguments.push_back(const_cast<char*>(w.c_str()));
    arguments.push_back(nullptr);
    posix_spawn_file_actions_t files{};
    posix_spawn_file_actions_init(&files);
    posix_spawn_file_actions_addopen(&files, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&files, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
    pid_t child = 0;
    const int failed =
        posix_spawnp(&child, arguments.front(), &files, nullptr, arguments.data(), environ);
    posix_spawn_file_actions_destroy(&files);
    int status = 0;
    return failed == 0 && waitpid(child, &status, 0) == child && status == 0;
}

void write_file(const std::string& path, const std::string& bytes)
{
    std::ofstream{path, std::ios::binary} << bytes;
}

Recording with_rests(Recording recording)
{
    const auto second = static_cast<std::size_t>(recording.sample_rate.hz);
    recording.samples.insert(recording.samples.begin(), second / 2, 0.0f);
    recording.samples.insert(recording.samples.end(), second, 0.0f);
    return recording;
}

Recording render_csound_vowel(Hertz f0, Seconds length)
{
    const ScratchFolder folder;
    const std::string wav = folder.path_of("vowel.wav");
    const std::string text =
        "<CsoundSynthesizer>\n<CsInstruments>\nsr = 48000\nksmps = 32\nnchnls = 1\n0dbfs = 1\n"
        "giSine ftgen 1, 0, 16384, 10, 1\n"
        "giRise ftgen 2, 0, 1024, 19, .5, .5, 270, .5\n"
        "instr 1\n"
        // The first formant wave carries the fundamental, the others the vowel.
        "a0 fof .10, p4, p4, 0, 60, .003, .02, .007, 60, 1, 2, p3, 0\n"
        "a1 fof .10, p4, 650, 0, 80, .003, .02, .007, 60, 1, 2, p3, 0\n"
        "a2 fof .05, p4, 1080, 0, 90, .003, .02, .007, 60, 1, 2, p3, 0\n"
        "a3 fof .02, p4, 2650, 0, 120, .003, .02, .007, 60, 1, 2, p3, 0\n"
        "kenv linseg 0, .04, 1, p3 - .12, 1, .08, 0\n"
        "out (a0 + a1 + a2 + a3) * kenv\n"
        "endin\n</CsInstruments>\n<CsScore>\ni1 0 " +
        std::to_string(length.count()) + " " + std::to_string(f0.value) +
        "\n</CsScore>\n</CsoundSynthesizer>\n";
    write_file(folder.path_of("vowel.csd"), text);
    return with_rests(
        rendered({"csound", "-d", "-W", "-o", wav, folder.path_of("vowel.csd")}, wav));
}

Recording render_general_midi(int program, int midi_note, Seconds length)
{
    const ScratchFolder folder;
    const std::string wav = folder.path_of("note.wav");
    const std::string midi = folder.path_of("note.mid");
    write_file(midi, one_note(program, midi_note, length));
    return with_rests(rendered(
        {"fluidsynth", "-ni", "-R", "0", "-C", "0", "-r", "48000", "-F", wav, kSoundFont, midi},
        wav));
}

Recording render_speech(const std::string& voice, const std::string& text)
{
    const ScratchFolder folder;
    const std::string wav = folder.path_of("speech.wav");
    return with_rests(rendered({"espeak-ng", "-v", voice, "-w", wav, text}, wav));
}

Recording render_sox(const std::vector<std::string>& synth, Seconds length)
{
    const ScratchFolder folder;
    const std::string wav = folder.path_of("tone.wav");
    std::vector<std::string> words{
        "sox", "-n", "-r", "44100", "-b", "24", wav, "synth", std::to_string(length.count())};
    words.insert(words.end(), synth.begin(), synth.end());
    for (const char* w : {"gain", "-12", "fade", "t", "0.03", "0", "0.05"}) words.emplace_back(w);
    return with_rests(rendered(words, wav));
}

Heard heard_in(const Recording& recording, const ListeningTask& task)
{
    Listener listener{{.sample_rate = recording.sample_rate}, task};
    listener.push(recording.samples);
    listener.finish();
    return listener.take_finished();
}

}  // namespace holdwell::test
