#include "app/cli/measure.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "tests/app/cli/session.h"
#include "tests/app/files/scratch_folder.h"
#include "tests/app/files/wav_bytes.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

std::vector<std::string> lines_of(const std::string& text)
{
    std::istringstream in{text};
    std::vector<std::string> lines;
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

// The number after "key": in JSON on one line; the first of that name.
double number_after(const std::string& json, const std::string& key)
{
    const std::size_t at = json.find("\"" + key + "\":");
    REQUIRE(at != std::string::npos);
    return std::stod(json.substr(at + key.size() + 3));
}

std::string written_note(const ScratchFolder& folder, const std::string& name,
                         const NoteScript& script)
{
    const std::string path = folder.path(name);
    REQUIRE(write_recording(path, note(script), Encoding::wav_24_bit));
    return path;
}

}  // namespace

TEST_CASE("a note of known pitch and length is measured as such, from 8 to 192 kHz")
{
    // Truth: the script. Its edges are raised cosines of 60 ms, of which the hold may lose part.
    const ScratchFolder folder;
    for (const double rate :
         {8'000.0, 16'000.0, 22'050.0, 44'100.0, 48'000.0, 96'000.0, 192'000.0}) {
        CAPTURE(rate);
        const NoteScript script{.rate = {rate}};
        const std::string path = written_note(folder, "note.wav", script);
        const Ran ran = run({"measure", "--target", "F4", "--format", "json", path});
        REQUIRE(ran.status == ExitStatus::ok);
        CHECK(ran.err.empty());
        CHECK(number_after(ran.out, "sample_rate_hz") == rate);
        CHECK(number_after(ran.out, "duration_s") == 5.0);
        CHECK(std::abs(number_after(ran.out, "onset_s") - 1.0) < 0.06);
        CHECK(std::abs(number_after(ran.out, "offset_s") - 4.0) < 0.06);
        CHECK(std::abs(number_after(ran.out, "deviation_cents")) < 0.5);
        CHECK(std::abs(number_after(ran.out, "in_band_s") - 3.0) < 0.15);
    }
}

TEST_CASE("threads: results come in the order of the arguments, whatever the number of jobs")
{
    const ScratchFolder folder;
    std::vector<std::string> words{"measure", "--format", "json", "--jobs", "1"};
    // Long and short in turn, so that later ones are done first.
    for (int i = 0; i < 6; ++i)
        words.push_back(
            written_note(folder, std::to_string(i) + ".wav",
                         {.f0 = {220.0 + i}, .length = Seconds{i % 2 == 0 ? 4.0 : 1.2}}));
    words.push_back(folder.path("missing.wav"));
    const Ran one = run(words);
    const std::vector<std::string> lines = lines_of(one.out);
    REQUIRE(lines.size() == 7);
    for (std::size_t i = 0; i < lines.size(); ++i)
        CHECK(lines[i].starts_with("{\"file\":\"" + words[5 + i] + "\""));
    for (const char* jobs : {"2", "3", "16"}) {
        words[4] = jobs;
        const Ran several = run(words);
        CHECK(several.out == one.out);
        CHECK(several.err == one.err);
        CHECK(several.status == ExitStatus::trouble);
    }
}

TEST_CASE("a file that cannot be read has its line and its entry, and the others are measured")
{
    const ScratchFolder folder;
    const std::string good = written_note(folder, "Zo\u00eb's \u00fcbung, Dienstag.wav", {});
    const std::string empty = folder.file("empty.wav", "");
    const std::string cut =
        folder.file("cut.wav", wav_bytes({.sound_bytes = 960'000}, std::string(96'000, '\1')));
    const Ran ran = run({"measure", "--format", "json", empty, good, cut});
    CHECK(ran.status == ExitStatus::trouble);
    const std::vector<std::string> said = lines_of(ran.err);
    REQUIRE(said.size() == 2);
    CHECK(said[0] == empty + ": is empty; copy or record it again");
    CHECK(said[1].starts_with(cut + ": stops after 1.0 s although it says it is 10.0 s long"));
    const std::vector<std::string> lines = lines_of(ran.out);
    REQUIRE(lines.size() == 3);
    CHECK(lines[0] == "{\"file\":\"" + empty + "\",\"error\":\"" + said[0] + "\"}");
    CHECK(lines[1].starts_with("{\"file\":\"" + good + "\""));
    CHECK(lines[1].find("\"error\"") == std::string::npos);
    CHECK(lines[2].find("\"duration_s\":1.0") != std::string::npos);  // what there is, is measured
    CHECK(lines[2].find("\"error\":") != std::string::npos);
}

TEST_CASE("samples that are no numbers are said, measured around, and no failure")
{
    const ScratchFolder folder;
    const std::string path = folder.path("nan.wav");
    Recording recording = note({});
    for (std::size_t i = 100; i < 110; ++i) recording.samples[i] = std::nanf("");
    REQUIRE(write_recording(path, recording, Encoding::wav_float));
    const Ran ran = run({"measure", "--format", "json", path});
    CHECK(ran.status == ExitStatus::ok);
    CHECK(ran.err == path + ": 10 samples are no number and were read as silence; record it again "
                            "if that matters\n");
    CHECK(ran.out.find("\"warnings\":[\"") != std::string::npos);
    CHECK(std::abs(number_after(ran.out, "f0_median_hz") - 349.228) < 0.1);
}

TEST_CASE("an /s/ is not looked for below 44100 samples a second, and the reason is given")
{
    const ScratchFolder folder;
    const std::string path = written_note(folder, "low.wav", {.rate = {16'000.0}});
    for (const char* drill : {"s", "z"}) {
        const Ran ran = run({"measure", "--drill", drill, path});
        CHECK(ran.status == ExitStatus::trouble);
        CHECK(ran.out.empty());
        CHECK(ran.err == path + ": has 16000 samples a second, and an /s/ cannot be heard below "
                                "44100; record it at 44100 or 48000\n");
    }
}

TEST_CASE("--frames prints one row every 10 ms, with f0 where there is voice")
{
    const ScratchFolder folder;
    const std::string path = written_note(folder, "note.wav", {});
    const Ran ran = run({"measure", "--frames", path});
    REQUIRE(ran.status == ExitStatus::ok);
    const std::vector<std::string> lines = lines_of(ran.out);
    CHECK(lines.size() == 501);  // 5 s, and the heading
    CHECK(lines[0] == "time_s,f0_hz,confidence,level_dbfs,phonation");
    CHECK(lines[20].ends_with(",silence"));
    CHECK(lines[250].ends_with(",voiced"));
    const double f0 = std::stod(lines[250].substr(lines[250].find(',') + 1));
    CHECK(std::abs(1200.0 * std::log2(f0 / 349.228)) < 0.5);
    CHECK(run({"measure", "--frames", folder.path("missing.wav")}).status == ExitStatus::trouble);
}

TEST_CASE("--frames says of a recording what the other formats say, and prints nothing without one")
{
    const ScratchFolder folder;
    const std::string none = folder.file("header only.wav", wav_bytes({}, ""));
    const Ran nothing = run({"measure", "--frames", none});
    CHECK(nothing.status == ExitStatus::trouble);
    CHECK(nothing.out.empty());
    CHECK(nothing.err == none + ": holds no sound; copy or record it again\n");
    CHECK(nothing.err == run({"measure", none}).err);

    const std::string broken = folder.path("nan.wav");
    Recording recording = note({.length = Seconds{1.2}});
    for (std::size_t i = 100; i < 110; ++i) recording.samples[i] = std::nanf("");
    REQUIRE(write_recording(broken, recording, Encoding::wav_float));
    const std::string cut = written_note(folder, "cut.wav", {.length = Seconds{1.2}});
    std::filesystem::resize_file(cut, 200'000);
    for (const std::string& path : {broken, cut}) {
        const Ran frames = run({"measure", "--frames", path});
        const Ran text = run({"measure", path});
        CHECK_FALSE(frames.err.empty());
        CHECK(frames.err == text.err);
        CHECK(frames.status == text.status);
        CHECK(lines_of(frames.out).size() > 100);
    }
}

TEST_CASE(
    "a name that would steer the terminal is shown in letters, and given as it is to programs")
{
    const ScratchFolder folder;
    const std::string path = written_note(folder, "a\x1b[2Jb.wav", {.length = Seconds{1.2}});
    const std::string shown = folder.path("a?[2Jb.wav");
    CHECK(run({"measure", path}).out.starts_with(shown + "\n"));
    CHECK(run({"measure", "--format", "csv", path}).out.find(path + ",hold") != std::string::npos);
    const std::string missing = folder.path("\x1b]0;none\a.wav");
    for (const char* way : {"--format=text", "--format=json", "--frames"}) {
        CAPTURE(way);
        const Ran ran = run({"measure", way, missing});
        CHECK(ran.err == folder.path("?]0;none?.wav") +
                             ": there is no such file; check its name and folder\n");
        CHECK(ran.out.find('\x1b') == std::string::npos);
    }
}

TEST_CASE("text says the same in words")
{
    const ScratchFolder folder;
    const std::string path = written_note(folder, "note.wav", {});
    const Ran ran = run({"measure", "--target", "F4", path});
    const std::vector<std::string> lines = lines_of(ran.out);
    REQUIRE(lines.size() >= 5);
    CHECK(lines[0] == path);
    CHECK(lines[1].starts_with("  Recording of 5.00 s at 48 kHz, room noise -"));
    CHECK(lines[2].starts_with("  Hold of "));
    CHECK(lines[3] == "    pitch:        349.2 Hz (F4)");
    CHECK(ran.out.find("exactly on F4") != std::string::npos);

    const std::string quiet = folder.path("quiet.wav");
    REQUIRE(write_recording(
        quiet, {.samples = std::vector<float>(96'000, 0.0F), .sample_rate = {48'000.0}},
        Encoding::wav_16_bit));
    CHECK(
        run({"measure", quiet}).out.ends_with("  No hold or glide of 1 s or longer was heard.\n"));
}

TEST_CASE("a hold that no throat made is said to be one, in text as in JSON and CSV")
{
    // The note is a sum of exact harmonics.
    const ScratchFolder folder;
    const std::string path = written_note(folder, "tone.wav", {});
    const std::string text = run({"measure", path}).out;
    CHECK(text.find("    in doubt:     This sounds like a machine") != std::string::npos);
    const std::string json = run({"measure", "--format", "json", path}).out;
    CHECK(json.find("\"doubt\":\"machine\",\"like_a_machine\":true") != std::string::npos);
    CHECK(json.find("\"processing\":[]") != std::string::npos);
    const std::vector<std::string> rows = lines_of(run({"measure", "--format", "csv", path}).out);
    REQUIRE(rows.size() == 2);
    CHECK(rows[0].ends_with(",doubt,like_a_machine,processing"));
    CHECK(rows[1].ends_with(",machine,true,"));
}

TEST_CASE("an overdriven note is said to be in doubt, and what the system did is told")
{
    // The note 30 dB too loud for full scale. In the other recording noise alone is taken away by
    // 20 dB within half a second, after one second.
    const ScratchFolder folder;
    Recording loud = note({.wander = {8.0}});
    for (float& v : loud.samples) v = std::clamp(31.6F * v, -1.0F, 1.0F);
    const std::string clipped = folder.path("clipped.wav");
    REQUIRE(write_recording(clipped, loud, Encoding::wav_24_bit));
    CHECK(run({"measure", clipped}).out.find("in doubt:     It was too loud for the microphone") !=
          std::string::npos);
    CHECK(run({"measure", "--format", "json", clipped}).out.find("\"doubt\":\"overloaded\"") !=
          std::string::npos);

    std::mt19937 random{2};
    std::normal_distribution<double> noise{0.0, 0.07};
    Recording learnt{.samples = {}, .sample_rate = {48'000.0}};
    for (int i = 0; i < 5 * 48'000; ++i) {
        const double t = i / 48'000.0;
        const double share = std::clamp((t - 1.0) / 0.5, 0.0, 1.0);
        learnt.samples.push_back(static_cast<float>(0.03 * noise(random) * std::pow(10.0, -share)));
    }
    const std::string path = folder.path("learnt.wav");
    REQUIRE(write_recording(path, learnt, Encoding::wav_24_bit));
    CHECK(run({"measure", path}).out.find("Switch noise suppression off") != std::string::npos);
    CHECK(run({"measure", "--format", "json", path})
              .out.find("\"processing\":[\"noise_suppression\"]") != std::string::npos);
}

TEST_CASE("results that cannot be written are a failure")
{
    const ScratchFolder folder;
    const std::string path = written_note(folder, "note.wav", {.length = Seconds{1.2}});
    std::ostringstream out;
    out.setstate(std::ios::badbit);
    std::ostringstream err;
    const Console console{.out = out, .err = err, .err_is_terminal = false};
    CHECK(run_command_line({"measure", path}, console, {}) == ExitStatus::trouble);
    CHECK(err.str() ==
          "holdwell: the results could not be written; check that the disk is not full\n");
}

TEST_CASE("progress is shown on a terminal only, and leaves nothing behind")
{
    const ScratchFolder folder;
    const std::string path = written_note(folder, "note.wav", {.length = Seconds{1.2}});
    std::ostringstream out;
    std::ostringstream err;
    const Console console{.out = out, .err = err, .err_is_terminal = true};
    CHECK(run_command_line({"measure", path, path}, console, {}) == ExitStatus::ok);
    CHECK(err.str().find("Measuring 2 of 2: " + path) != std::string::npos);
    CHECK(err.str().ends_with("\r\x1b[K"));
    CHECK(out.str().find('\x1b') == std::string::npos);
}
