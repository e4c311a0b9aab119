#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "tests/app/cli/session.h"

using namespace holdwell;
using namespace holdwell::test;

TEST_CASE("words that are not understood: one sentence on standard error, exit status 2")
{
    struct Row {
        std::vector<std::string> words;
        const char* sentence;
    };
    const Row rows[] = {
        {{"mesure", "a.wav"},
         "holdwell: there is no command \"mesure\"; did you mean \"holdwell measure\"?"},
        {{"sing"},
         "holdwell: there is no command \"sing\"; \"holdwell --help\" lists what there is"},
        {{"\xff\xfe\x1b[2J"},
         "holdwell: there is no command \"???[2J\"; \"holdwell --help\" lists what there is"},
        {{"--colour"},
         "holdwell: there is no option --colour; \"holdwell --help\" lists what there is"},
        {{"--demo", ""},
         "holdwell: --demo: write something after it, or leave it out; \"holdwell --help\" lists "
         "what there is"},
        {{"measure"},
         "holdwell measure: name at least one recording, for example holdwell measure my-hold.wav"},
        {{"measure", "--taget", "F4", "a.wav"},
         "holdwell measure: there is no option --taget; \"holdwell measure --help\" lists what "
         "there is"},
        {{"measure", "a.wav", "--band"},
         "holdwell measure: --band needs one value after it; \"holdwell measure --help\" lists "
         "what there is"},
        {{"measure", "--target", "H4", "a.wav"},
         "holdwell measure: --target H4: that is neither a note nor a frequency; write a note such "
         "as F4 or Bb3, or hertz such as 349.2"},
        {{"measure", "--target", "", "a.wav"},
         "holdwell measure: --target \"\": that is neither a note nor a frequency; write a note "
         "such as F4 or Bb3, or hertz such as 349.2"},
        {{"measure", "--target", "\x1b[2J", "a.wav"},
         "holdwell measure: --target ?[2J: that is neither a note nor a frequency; write a note "
         "such as F4 or Bb3, or hertz such as 349.2"},
        {{"measure", "--target", "B1", "a.wav"},
         "holdwell measure: --target B1: notes from C2 to C6 can be heard (60 to 1100 Hz); try "
         "--target F4"},
        {{"measure", "--target", "C9", "a.wav"},
         "holdwell measure: --target C9: notes from C2 to C6 can be heard (60 to 1100 Hz); try "
         "--target F4"},
        {{"measure", "--target", "20000", "a.wav"},
         "holdwell measure: --target 20000: notes from C2 to C6 can be heard (60 to 1100 Hz); try "
         "--target F4"},
        {{"measure", "--band", "wide", "a.wav"},
         "holdwell measure: --band wide: that is not a number; try --band 100"},
        {{"measure", "--band", "g.flac"},
         "holdwell measure: --band g.flac: that is not a number; try --band 100"},
        {{"measure", "--band", "", "a.wav"},
         "holdwell measure: --band \"\": that is not a number; try --band 100"},
        {{"measure", "--jobs", "", "a.wav"},
         "holdwell measure: --jobs \"\": that is not a number; try --jobs 2"},
        {{"measure", "--format", "", "a.wav"},
         "holdwell measure: --format \"\": it can be text, json or csv"},
        {{"measure", "--frames"},
         "holdwell measure: name at least one recording, for example holdwell measure my-hold.wav"},
        {{"measure", "--band", "0", "a.wav"},
         "holdwell measure: --band 0: it can be from 1 to 1200 cents; try --band 100"},
        {{"measure", "--band", "-50", "a.wav"},
         "holdwell measure: --band -50: it can be from 1 to 1200 cents; try --band 100"},
        {{"measure", "--band", "nan", "a.wav"},
         "holdwell measure: --band nan: that is not a number; try --band 100"},
        {{"measure", "--bridge", "1e9", "a.wav"},
         "holdwell measure: --bridge 1e9: it can be from 0 to 2000 milliseconds; try --bridge 300"},
        {{"measure", "--shortest", "1,5", "a.wav"},
         "holdwell measure: --shortest 1,5: write numbers with a point, for example 1.0"},
        {{"measure", "--drill", "trill", "a.wav"},
         "holdwell measure: --drill trill: it can be any, hold, s, z, glide-up or glide-down"},
        {{"measure", "--format", "xml", "a.wav"},
         "holdwell measure: --format xml: it can be text, json or csv"},
        {{"measure", "--jobs", "0", "a.wav"},
         "holdwell measure: --jobs 0: it can be from 1 to 256; try --jobs 2"},
        {{"measure", "--jobs", "1.5", "a.wav"},
         "holdwell measure: --jobs 1.5: write a whole number, for example 2"},
        {{"measure", "--frames", "a.wav", "b.wav"},
         "holdwell measure: --frames: name one recording at a time"},
        {{"coach", "--note", "349.2"},
         "holdwell coach: --note 349.2: write the name of a note, such as F4 or Bb3"},
        {{"coach", "--note", "B1"},
         "holdwell coach: --note B1: notes from C2 to C6 can be heard (60 to 1100 Hz); try --note "
         "F4"},
        {{"coach", "--goal", ""},
         "holdwell coach: --goal \"\": that is not a number; try --goal 18"},
        {{"coach", "--trials", ""},
         "holdwell coach: --trials \"\": that is not a number; try --trials 2"},
        {{"coach", "--file", ""}, "holdwell coach: --file \"\": name a recording after it"},
        {{"coach", "--plan", ""}, "holdwell coach: --plan \"\": name a plan's file, or home"},
        {{"coach", "--goal", "999"},
         "holdwell coach: --goal 999: it can be from 1 to 120 seconds; try --goal 18"},
        {{"coach", "--fast"},
         "holdwell coach: --fast: only a recording can be heard faster than it sounds; name one "
         "with --file"},
        {{"coach", "now"},
         "holdwell coach: does not take \"now\"; \"holdwell coach --help\" lists what there is"},
        {{"devices", "all"},
         "holdwell devices: does not take \"all\"; \"holdwell devices --help\" lists what there "
         "is"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.sentence);
        const Ran ran = run(row.words);
        CHECK(ran.status == ExitStatus::wrong_usage);
        CHECK(ran.err == std::string{row.sentence} + "\n");
        CHECK(ran.out.empty());
    }
}

TEST_CASE("notes are understood however they are written")
{
    // A missing file is reached only when the options were understood.
    for (const char* note : {"F4", "f4", "Bb3", "C#4", "B\u266d3", "349.2", "61", "C2", "C6"}) {
        CAPTURE(note);
        CHECK(run({"measure", "--target", note, "missing.wav"}).status == ExitStatus::trouble);
    }
}
