#include <doctest/doctest.h>

#include "app/ui/words.h"

using namespace holdwell;

namespace {

FinishedHold held(double seconds, double share_in_band, Rank rank = Rank::other)
{
    FinishedHold f;
    f.length = Seconds{seconds};
    f.rank = rank;
    f.hold.in_band = Seconds{seconds * share_in_band};
    f.hold.deviation = Cents{-3.0};
    return f;
}

}  // namespace

// Sentences: the wording is the specification (the words of the trade, and ours for the rest).

TEST_CASE("a finished hold is told as time, nearness and what was reached")
{
    CHECK(line_when_finished(held(14.2, 0.9, Rank::longest)) ==
          "14.2 seconds. Near enough nearly all the way. Longest yet.");
    CHECK(line_when_finished(held(9.0, 1.0)) == "9 seconds. Near enough all the way.");
    CHECK(line_when_finished(held(9.0, 0.6)) == "9 seconds. Near enough most of the way.");
    CHECK(line_when_finished(held(9.0, 0.3)) ==
          "9 seconds. Near enough part of the way, otherwise below it.");
    CHECK(line_when_finished(held(9.0, 0.0)) ==
          "9 seconds. It lay below the note. Press H to hear it again.");
    CHECK(line_when_finished(held(1.04, 1.0)) == "1 second. Near enough all the way.");
}

TEST_CASE("a goal counts as reached when the seconds shown say so")
{
    FinishedHold f = held(17.96, 1.0, Rank::longest);
    f.drill.goal = Seconds{18.0};
    CHECK(line_when_finished(f) ==
          "18 seconds. Near enough all the way. Goal reached, longest yet.");
    f.hold.doubt = Doubt::several_sounds;
    f.rank = Rank::other;
    CHECK(line_when_finished(f).find("Goal") == std::string::npos);
    f = held(17.94, 1.0);
    f.drill.goal = Seconds{18.0};
    CHECK(line_when_finished(f) == "17.9 seconds. Near enough all the way.");
}

TEST_CASE("the right note in another octave is said, and is fine")
{
    FinishedHold f = held(8.0, 0.0);
    f.hold.octaves_off = 1;
    CHECK(line_when_finished(f) == "8 seconds. Right note, one octave up: that is fine.");
    f.hold.octaves_off = -2;
    CHECK(line_when_finished(f) == "8 seconds. Right note, two octaves down: that is fine.");
}

TEST_CASE("without a target nothing is said about nearness")
{
    FinishedHold f = held(8.0, 0.0);
    f.drill.kind = DrillKind::z_hold;
    CHECK(line_when_finished(f) == "8 seconds.");
}

TEST_CASE("quantities in words")
{
    CHECK(tenths(Seconds{12.349}) == "12.3");
    CHECK(tenths(Seconds{0.0}) == "0.0");
    CHECK(seconds_in_words(Seconds{0.6}) == "0.6 seconds");
    CHECK(short_seconds(Seconds{18.0}) == "18 s");
    CHECK(short_seconds(Seconds{7.5}) == "7.5 s");
    CHECK(signed_cents(Cents{12.4}) == "+12 cents");
    CHECK(signed_cents(Cents{-1.0}) == "\u22121 cent");
    CHECK(signed_cents(Cents{-0.4}) == "0 cents");
    CHECK(signed_number(-24.04) == "\u221224.0");
    CHECK(lost_words({480}, {48'000.0}) == "10 ms of sound was lost by the computer.");
    CHECK(lost_words({96'000}, {48'000.0}) == "2 seconds of sound was lost by the computer.");
    CHECK(lost_words({0}, {48'000.0}).empty());
}

TEST_CASE("what to do is said for every drill")
{
    Drill drill;
    CHECK(line_when_ready(drill) == "Breathe in, then sing F4 softly.");
    drill.target = Note{61};
    CHECK(line_when_ready(drill) == "Breathe in, then sing C\u266f4 softly.");
    for (const auto kind : {DrillKind::rising_glide, DrillKind::falling_glide, DrillKind::s_hold,
                            DrillKind::z_hold}) {
        drill.kind = kind;
        CHECK(line_when_ready(drill).starts_with("Breathe in, then "));
        CHECK(line_when_ready(drill).find("C\u266f4") == std::string::npos);
    }
}

TEST_CASE("trials are counted as two, and beyond")
{
    Drill drill;
    CHECK(aim_of(drill, 0) == "first of two, as long as the breath is easy");
    CHECK(aim_of(drill, 1) == "second of two, as long as the breath is easy");
    CHECK(aim_of(drill, 2) == "third time, as long as the breath is easy");
    CHECK(aim_of(drill, 40) == "once more, as long as the breath is easy");
    drill.goal = Seconds{18.0};
    CHECK(aim_of(drill, 0) == "first of two, towards 18 seconds, while the breath is easy");
}

TEST_CASE("while it sounds the words follow where the voice lies")
{
    CHECK(line_when_sounding({.lie = Lie::near}) == "Near enough. Let the air do the work.");
    CHECK(line_when_sounding({.lie = Lie::high}) == "A little high. Let it sink.");
    CHECK(line_when_sounding({.lie = Lie::low}) == "A little low. Let it float up.");
    CHECK(line_when_sounding({.lie = Lie::other_octave, .octaves_off = -1}) ==
          "Right note, one octave down. Go on.");
    CHECK(line_when_sounding({.lie = Lie::high, .past_goal = true}) ==
          "Past the goal. Stop whenever you like.");
}

TEST_CASE("a glide is told by its ends and its breaks")
{
    Glide glide;
    CHECK(line_when_glided(glide) == "A short glide. Take your time, and let it travel.");
    glide.lowest = Hertz{220.0};   // A3, ISO 16 and equal temperament
    glide.highest = Hertz{440.0};  // A4
    CHECK(line_when_glided(glide) == "A3 to A4: 12 semitones. No break.");
    glide.breaks.resize(2);
    CHECK(line_when_glided(glide) == "A3 to A4: 12 semitones. 2 breaks.");
}

TEST_CASE("no sentence grades, alarms or diagnoses")
{
    // The words a client must never meet here.
    const std::vector<std::string> never{"wrong", "bad",   "fail",     "error", "score",
                                         "poor",  "worse", "abnormal", "!"};
    std::vector<std::string> said;
    for (double share = 0.0; share <= 1.0; share += 0.05) {
        for (const Rank rank : {Rank::first, Rank::longest, Rank::other}) {
            said.push_back(line_when_finished(held(7.3, share, rank)));
        }
    }
    for (const Lie lie : {Lie::unknown, Lie::near, Lie::high, Lie::low, Lie::other_octave}) {
        said.push_back(line_when_sounding({.lie = lie, .octaves_off = 1}));
    }
    for (const std::string& sentence : said) {
        for (const std::string& word : never) {
            CAPTURE(sentence);
            CHECK(sentence.find(word) == std::string::npos);
        }
    }
}
