#include "app/cli/coach_lines.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace holdwell;

namespace {

using Lines = std::vector<std::string>;

constexpr SampleRate kRate{48'000.0};

SampleIndex at(double seconds) { return {samples_in(Seconds{seconds}, kRate).value}; }

// A frame while a hold is under way.
FrameHeard frame(double so_far, Hertz f0)
{
    FrameHeard heard;
    heard.reading.f0 = f0;
    heard.under_way.emplace();
    heard.under_way->so_far = Seconds{so_far};
    return heard;
}

TrialFinished trial(double length, double in_band, double deviation)
{
    TrialFinished finished;
    finished.hold.offset = at(length);
    finished.hold.in_band = Seconds{in_band};
    finished.hold.deviation = Cents{deviation};
    return finished;
}

// Everything said while a hold at `f0` lasts `length` seconds.
Lines said_during(CoachLines& lines, double length, Hertz f0)
{
    Lines said;
    for (int hop = 1; hop * 0.01 <= length; ++hop) {
        for (std::string& line : lines.apply(frame(hop * 0.01, f0)))
            said.push_back(std::move(line));
    }
    return said;
}

CoachLines ready_for(std::optional<Seconds> goal)
{
    Drill drill;
    drill.goal = goal;
    CoachLines lines{drill};
    lines.apply(StageChanged{Stage::ready});
    lines.apply(StageChanged{Stage::sounding});
    return lines;
}

}  // namespace

TEST_CASE("the opening names the note, the goal and how near is near enough")
{
    // F4 = 349.228 Hz: twelve-tone equal temperament, A4 = 440 Hz (ISO 16).
    Drill drill;
    CHECK(CoachLines{drill}.opening() ==
          Lines{"Holdwell. The note is F4, 349.2 hertz.",
                "Hold it softly, for as long as the breath is easy.",
                "Near enough is within 100 cents, higher or lower."});
    drill.goal = 18s;
    CHECK(CoachLines{drill}.opening()[1] == "Hold it softly; the goal is 18 seconds.");
}

TEST_CASE("each stage is said once")
{
    CoachLines lines{Drill{}};
    CHECK(lines.apply(StageChanged{Stage::playing}) == Lines{"Listen: this is F4."});
    CHECK(lines.apply(StageChanged{Stage::settling}) == Lines{"Now breathe in."});
    CHECK(lines.apply(StageChanged{Stage::ready}) == Lines{"Sing F4 softly when you are ready."});
    CHECK(lines.apply(StageChanged{Stage::ready}).empty());
    CHECK(lines.apply(StageChanged{Stage::sounding}).empty());
}

TEST_CASE("a cough is not worth a line, and a short note is told to be short")
{
    CoachLines lines = ready_for(std::nullopt);
    CHECK(said_during(lines, 0.3, {349.228}).empty());
    CHECK(lines.apply(TrialDiscarded{300ms}).empty());
    CHECK(lines.apply(StageChanged{Stage::ready}).empty());
    lines.apply(StageChanged{Stage::sounding});
    CHECK(said_during(lines, 0.8, {349.228}) == Lines{"I hear you."});
    CHECK(lines.apply(TrialDiscarded{800ms}) == Lines{"That was 0.8 seconds: too short to count."});
    CHECK(lines.apply(StageChanged{Stage::ready}) == Lines{"Sing F4 softly when you are ready."});
}

TEST_CASE("a hold is spoken of every five seconds and at its goal, and no more")
{
    CoachLines near = ready_for(12s);
    CHECK(said_during(near, 16.0, {349.228}) ==
          Lines{"I hear you.", "5 seconds, near enough.", "10 seconds, near enough.",
                "12 seconds: the goal. Stop whenever you like.", "15 seconds, near enough."});
    CoachLines at_mark = ready_for(10s);
    CHECK(said_during(at_mark, 11.0, {349.228}) ==
          Lines{"I hear you.", "5 seconds, near enough.",
                "10 seconds: the goal. Stop whenever you like."});
    // F#4 and E4 are 369.994 and 329.628 Hz; two semitones away is outside a band of 100 cents.
    CoachLines high = ready_for(std::nullopt);
    CHECK(said_during(high, 6.0, {391.995}) ==
          Lines{"I hear you.", "5 seconds, a little high: let it sink."});
    CoachLines low = ready_for(std::nullopt);
    CHECK(said_during(low, 6.0, {311.127}) ==
          Lines{"I hear you.", "5 seconds, a little low: let it float up."});
}

TEST_CASE("a finished hold is told in plain words, without a grade")
{
    CoachLines lines = ready_for(18s);
    CHECK(lines.apply(trial(14.2, 14.1, 5.0)) ==
          Lines{"Held for 14.2 seconds.", "Near the note all the way."});
    CHECK(lines.apply(trial(8.0, 8.0, -80.0)) ==
          Lines{"Held for 8 seconds.", "Near the note all the way, if a little low."});
    TrialFinished better = trial(19.4, 12.0, -40.0);
    better.hold.start.named = OnsetClass::breathy;
    better.hold.interruptions = {{at(3.0), 80ms}};
    CHECK(lines.apply(better) == Lines{"Held for 19.4 seconds. Longest yet. Goal reached.",
                                       "Near the note for 12 seconds; on the whole a little low.",
                                       "Air came before the voice.", "There was one short gap."});
    TrialFinished lower = trial(5.0, 0.0, 0.0);
    lower.hold.octaves_off = -1;
    CHECK(lines.apply(lower) ==
          Lines{"Held for 5 seconds.", "That was the right note, one octave lower."});
    CHECK(lines.trials() == 4);
    CHECK(lines.closing() == Lines{"4 holds; the longest was 19.4 seconds."});
}

TEST_CASE("a hold with lost sound is kept and marked, and is no best")
{
    CoachLines lines = ready_for(std::nullopt);
    lines.apply(trial(5.0, 5.0, 0.0));
    TrialFinished gap = trial(9.0, 9.0, 0.0);
    gap.hold.has_gap = true;
    CHECK(lines.apply(gap) == Lines{"Held for 9 seconds.", "Near the note all the way.",
                                    "Some sound was lost in it, so it does not count as a best."});
    CHECK(lines.closing() == Lines{"2 holds; the longest was 5 seconds."});
}

TEST_CASE("what the sound system says is passed on as it is")
{
    CoachLines lines{Drill{}};
    CHECK(lines.apply(CaptureChanged{CaptureState::live, "Headset", "", kRate}) ==
          Lines{"Listening to Headset."});
    CHECK(lines.apply(CaptureChanged{CaptureState::lost, "Headset", "The headset is gone.",
                                     kRate}) == Lines{"The headset is gone."});
    CHECK(lines.apply(SamplesLost{{4'800}}) == Lines{"The computer lost 0.1 seconds of sound."});
    CHECK(lines.closing() == Lines{"No hold of a second or longer was heard."});
}

TEST_CASE("what was heard beside the note is told: another sound, a machine, a loud voice")
{
    CoachLines lines = ready_for(std::nullopt);
    lines.apply(trial(5.0, 5.0, 0.0));
    TrialFinished company = trial(9.0, 9.0, 0.0);
    company.hold.doubt = Doubt::several_sounds;
    CHECK(lines.apply(company) ==
          Lines{"Held for 9 seconds.",
                "Something else sounded along, so the note cannot be judged."});
    TrialFinished even = trial(7.0, 7.0, 0.0);
    even.hold.like_a_machine = true;
    even.hold.doubt = Doubt::machine;
    even.loudness = Loudness::much_louder;
    CHECK(lines.apply(even) ==
          Lines{"Held for 7 seconds.",
                "This sounds like a machine, not like a voice, so it does not count.",
                "It was louder than it need be: softer is enough."});
    even.hold.doubt = Doubt::noisy_room;  // a graver one
    CHECK(lines.apply(even).at(2) == "It was as even as a machine.");
    CHECK(lines.closing() == Lines{"4 holds; the longest was 5 seconds."});
    CHECK(lines.apply(ProcessingChanged{MicrophoneProcessing::gain_control}).size() == 1);
    CHECK(lines.apply(ProcessingChanged{std::nullopt}).empty());
}
