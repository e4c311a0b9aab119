// Voices made by programs of others at known pitch, rendered when the tests run. Truth: the pitch
// asked for, in twelve-tone equal temperament with A4 = 440 Hz (ISO 16:1975).

#include <doctest/doctest.h>

#include <cmath>

#include "tests/bench/pitch_method.h"
#include "tests/reference/rendering.h"

namespace holdwell {

namespace {

constexpr ListeningTask kHold{.sought = Sought::hold};

// 440 * 2^((n - 69) / 12), ISO 16.
Hertz tempered(int midi_note) { return {440.0 * std::exp2((midi_note - 69) / 12.0)}; }

// The one hold of the recording.
Hold only_hold(const Recording& recording)
{
    const Heard heard = test::heard_in(recording, kHold);
    REQUIRE(heard.holds.size() == 1);
    REQUIRE(heard.holds[0].f0_median);
    return heard.holds[0];
}

double length_s(const Hold& h, SampleRate rate)
{
    return duration_of(h.offset - h.onset, rate).count();
}

double cents_off(Hertz truth, const Hold& h) { return interval_between(truth, *h.f0_median).value; }

}  // namespace

TEST_CASE("vowels sung by csound are read within half a cent and timed within 100 ms")
{
    // C3 F3 C4 F4 G4: the notes of the drills and the lowest of them.
    for (const int note : {48, 53, 60, 65, 67}) {
        CAPTURE(note);
        const Recording r = test::render_csound_vowel(tempered(note), Seconds{3.0});
        const Hold h = only_hold(r);
        CHECK(std::abs(cents_off(tempered(note), h)) <= 0.5);
        CHECK(h.f0_sd->value <= 2.0);
        CHECK(std::abs(length_s(h, r.sample_rate) - 3.0) <= 0.1);
        CHECK(h.interruptions.empty());
    }
}

TEST_CASE("voice notes of a General MIDI bank are read within 5 cents and timed")
{
    for (const int note : {53, 60, 65, 67}) {
        CAPTURE(note);
        const Recording r = test::render_general_midi(54, note, Seconds{4.0});
        const Hold h = only_hold(r);
        CHECK(std::abs(cents_off(tempered(note), h)) <= 5.0);
        // The note is let go after 4 s; the bank's release follows.
        CHECK(length_s(h, r.sample_rate) >= 3.8);
        CHECK(length_s(h, r.sample_rate) <= 4.4);
    }
}

TEST_CASE("a choir of a General MIDI bank is read as aubio reads it")
{
    // Many singers at once, tuned by ear and wavering: the note asked for is only near.
    const auto& yinfft = bench::method_kinds()[2];
    for (const int note : {53, 60, 65}) {
        CAPTURE(note);
        const Recording r = test::render_general_midi(53, note, Seconds{4.0});
        const Heard heard = test::heard_in(r, kHold);
        REQUIRE(!heard.holds.empty());
        CHECK(std::abs(cents_off(tempered(note), heard.holds[0])) <= 40.0);
        std::vector<double> hz;
        for (const auto& e : bench::estimates_of(yinfft, r.samples, r.sample_rate))
            if (e.f0 && e.time > 1s && e.time < Seconds{4.0}) hz.push_back(e.f0->value);
        REQUIRE(hz.size() > 250);
        CHECK(std::abs(cents_off(Hertz{test::quantile(hz, 0.5)}, heard.holds[0])) <= 5.0);
    }
}

TEST_CASE("no frame of a sung note is read at another note, nor at a part or a multiple of it")
{
    // The bank's voice is a recorded one. Where the third harmonic is strong, a third of the f0 is
    // easily read. A frame is gross when it is 50 cents off; the voice slides into its notes.
    const auto& ours = bench::method_kinds()[0];
    for (int note = 48; note <= 74; note += 2) {
        CAPTURE(note);
        const Recording r = test::render_general_midi(54, note, Seconds{3.0});
        int frames = 0;
        for (const auto& e : bench::estimates_of(ours, r.samples, r.sample_rate)) {
            if (!e.f0 || e.time < 650ms || e.time > Seconds{2.9}) continue;
            ++frames;
            CAPTURE(e.time.count());
            CHECK(std::abs(interval_between(tempered(note), *e.f0).value) < 50.0);
        }
        CHECK(frames >= 200);
    }
}

TEST_CASE("a note that dies away slowly is one hold, not two")
{
    // The bank's choir takes two seconds to fall silent after the note is let go.
    const Recording r = test::render_general_midi(53, 60, Seconds{4.0});
    CHECK(test::heard_in(r, kHold).holds.size() == 1);
}

TEST_CASE("sine tones by sox are read within a tenth of a cent and timed")
{
    for (const char* hz : {"98", "174.614", "261.626", "349.228", "391.995", "783.991"}) {
        CAPTURE(hz);
        const Recording r = test::render_sox({"sine", hz}, Seconds{2.5});
        const Hold h = only_hold(r);
        CHECK(std::abs(cents_off(Hertz{std::stod(hz)}, h)) <= 0.1);
        CHECK(std::abs(length_s(h, r.sample_rate) - 2.5) <= 0.1);
    }
}

TEST_CASE("an exponential sweep by sox is one rising glide of an octave")
{
    const Recording r = test::render_sox({"sine", "220/440"}, Seconds{3.0});
    const Heard heard = test::heard_in(r, {.sought = Sought::any});
    CHECK(heard.holds.empty());
    REQUIRE(heard.glides.size() == 1);
    const Glide& g = heard.glides[0];
    CHECK(g.direction == GlideDirection::up);
    REQUIRE(g.lowest);
    REQUIRE(g.highest);
    // Sustained for 100 ms at each end: the sweep moves 0.4 semitones in that time.
    CHECK(std::abs(semitones_between(*g.lowest, *g.highest).value - 12.0) <= 0.8);
    CHECK(g.breaks.empty());
}

TEST_CASE("speech by espeak-ng is never timed as a hold")
{
    const char* const text =
        "Good morning. I would like to talk about the weather in the hills, the long road home, "
        "and how slowly the afternoon went by. Are you all right? Yes, only a little tired.";
    for (const char* voice : {"en-gb", "en-us", "en-us+f3", "de", "fr", "it"}) {
        CAPTURE(voice);
        CHECK(test::heard_in(test::render_speech(voice, text), kHold).holds.empty());
    }
}

TEST_CASE("pure noise by sox is never timed as a hold")
{
    for (const char* kind : {"whitenoise", "pinknoise", "brownnoise"}) {
        CAPTURE(kind);
        CHECK(test::heard_in(test::render_sox({kind}, Seconds{4.0}), kHold).holds.empty());
    }
}

}  // namespace holdwell
