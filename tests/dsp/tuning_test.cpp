#include "dsp/tuning.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <string>
#include <string_view>

using namespace holdwell;

TEST_CASE("notes have the frequencies of equal temperament from A4 = 440 Hz")
{
    struct Row {
        Note note;
        double hz;  // ISO 16 and 2^(1/12), to two decimals as in printed tables
    };
    constexpr std::array<Row, 20> kRows{
        {{{48}, 130.81}, {{49}, 138.59}, {{50}, 146.83}, {{51}, 155.56}, {{52}, 164.81},
         {{53}, 174.61}, {{54}, 185.00}, {{55}, 196.00}, {{56}, 207.65}, {{57}, 220.00},
         {{58}, 233.08}, {{59}, 246.94}, {{60}, 261.63}, {{61}, 277.18}, {{62}, 293.66},
         {{63}, 311.13}, {{64}, 329.63}, {{65}, 349.23}, {{66}, 369.99}, {{67}, 392.00}}};
    for (const Row& row : kRows) {
        CAPTURE(row.note.midi);
        CHECK(std::abs(frequency_of(row.note).value - row.hz) <= 0.005);
    }
    for (int midi = 0; midi <= 127; ++midi) {
        const double formula = 440.0 * std::pow(2.0, (midi - 69) / 12.0);
        CHECK(frequency_of(Note{midi}).value == doctest::Approx(formula).epsilon(1e-12));
    }
}

TEST_CASE("the nearest note changes half-way between two, in cents")
{
    for (int midi = 1; midi < 127; ++midi) {
        const double f = 440.0 * std::pow(2.0, (midi - 69) / 12.0);
        CHECK(nearest_note({f * std::pow(2.0, 49.0 / 1200.0)}) == Note{midi});
        CHECK(nearest_note({f * std::pow(2.0, -49.0 / 1200.0)}) == Note{midi});
        CHECK(nearest_note({f * std::pow(2.0, 51.0 / 1200.0)}) == Note{midi + 1});
    }
    CHECK(nearest_note({1.0}) == Note{0});
    CHECK(nearest_note({30'000.0}) == Note{127});
}

TEST_CASE("note names are read as people write them")
{
    struct Row {
        std::string_view text;
        int midi;  // C4 = 60, the MIDI convention
    };
    constexpr std::array<Row, 14> kRows{{{"F4", 65},
                                         {"f4", 65},
                                         {"A4", 69},
                                         {"C4", 60},
                                         {"C#4", 61},
                                         {"Db4", 61},
                                         {"C\u266f4", 61},
                                         {"B\u266d3", 58},
                                         {"Bb3", 58},
                                         {"bb3", 58},
                                         {"b3", 59},
                                         {"Cb4", 59},
                                         {"C-1", 0},
                                         {"G9", 127}}};
    for (const Row& row : kRows) {
        CAPTURE(std::string{row.text});
        const auto note = parse_note(row.text);
        REQUIRE(note);
        CHECK(note->midi == row.midi);
    }
}

TEST_CASE("what names no note is refused")
{
    for (const std::string_view text :
         {"",    " ",   "H4",   "4",  "F",   "F#",   "F4 ",  " F4",    "F44",       "F10",
          "F-2", "Fx4", "F##4", "4F", "G#9", "Cb-1", "F4.5", "\u266f", "F\xe2\x99", "F+4"}) {
        CAPTURE(std::string{text});
        CHECK_FALSE(parse_note(text));
    }
}

TEST_CASE("every note's name, plain or for display, is read as that note")
{
    for (int midi = 0; midi <= 127; ++midi) {
        const Note note{midi};
        CHECK(parse_note(name_of(note)) == note);
        CHECK(parse_note(name_of(note, Spelling::display)) == note);
    }
    CHECK(name_of(kF4) == "F4");
    CHECK(name_of(Note{61}) == "C#4");
    CHECK(name_of(Note{61}, Spelling::display) == "C\u266f4");
    CHECK(name_of(Note{0}) == "C-1");
}
