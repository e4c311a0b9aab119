// Our own note comes back from the loudspeaker, late and with the room's decay behind it: nothing
// of it is timed, and the client who sings afterwards is.

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "dsp/reference_tone.h"
#include "tests/app/engine/heard_engine.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

struct Loudspeaker {
    Seconds delay;  // of system and air
    Decibels gain;  // of the tone as it arrives, over its peak of -6 dBFS
};

// The note as it sounds in a room, for so long. Two metres from a loudspeaker the echoes of a
// living room are together louder than what comes straight.
std::vector<double> in_a_room(const ToneRequest& tone, Seconds rt60, Seconds length)
{
    std::vector<double> x(static_cast<std::size_t>(samples_in(length, kRate).value));
    std::ranges::copy(samples_of({tone.f0, tone.length, kRate}), x.begin());
    return in_room(x, {.rt60 = rt60, .direct_to_reverberant = Decibels{-3.0}}, kRate, 3);
}

// What a microphone there hears, cut off at full scale.
std::vector<float> heard_of(const std::vector<double>& note, const Loudspeaker& l)
{
    std::vector<float> heard = quiet(duration_of({static_cast<std::int64_t>(note.size())}, kRate));
    const auto late = static_cast<std::size_t>(samples_in(l.delay, kRate).value);
    const double gain = std::pow(10.0, l.gain.value / 20.0);
    for (std::size_t i = late; i < heard.size(); ++i) {
        const double v = double{heard[i]} + gain * note[i - late];
        heard[i] = static_cast<float>(std::clamp(v, -1.0, 1.0));
    }
    return heard;
}

ToneRequest asked_for(Note note) { return {.f0 = frequency_of(note), .length = Seconds{1.5}}; }

// From a whisper to one that drives the microphone to full scale; at once, or as late as wireless
// loudspeakers are.
const std::array<Loudspeaker, 4> kLoudspeakers{{{0ms, Decibels{-30.0}},
                                                {300ms, Decibels{-6.0}},
                                                {0ms, Decibels{12.0}},
                                                {300ms, Decibels{12.0}}}};

// A second of quiet, and then the note is asked for.
void ask_for(Practice& practice, Note note)
{
    Drill drill = drill_of(DrillKind::warm_up_hold);
    drill.target = note;
    practice.hear(quiet(1s));
    practice.tell(BeginDrill{drill});
    practice.tell(HearNote{});
    const auto request = practice.tone();
    REQUIRE(request);
    CHECK(request->length == asked_for(note).length);
}

// All that was reported, discarded or shown as under way.
std::size_t judged(const Practice& practice)
{
    const auto frames = practice.all<FrameHeard>();
    const auto under_way =
        std::ranges::count_if(frames, [](const FrameHeard& f) { return f.under_way.has_value(); });
    return practice.all<TrialFinished>().size() + practice.all<TrialDiscarded>().size() +
           static_cast<std::size_t>(under_way);
}

}  // namespace

TEST_CASE("no hold is timed from our own note in a room that echoes, however loud or late it comes")
{
    // Living rooms to 1.5 s; beyond it halls, and churches, where a note sounds for longer than one
    // would wait for it.
    for (const Seconds rt60 : {0.4s, 1.5s, 4.0s}) {
        for (const Note note : {Note{45}, kF4, Note{79}}) {  // A2 to G5
            const std::vector<double> played = in_a_room(asked_for(note), rt60, 12s);
            for (const Loudspeaker& l : kLoudspeakers) {
                CAPTURE(rt60.count());
                CAPTURE(note.midi);
                CAPTURE(l.delay.count());
                CAPTURE(l.gain.value);
                Practice practice;
                ask_for(practice, note);
                practice.hear(heard_of(played, l));
                CHECK(judged(practice) == 0);
                // And then she is heard, from the second when she begins.
                practice.hear(sung({.f0 = steady(frequency_of(note))}, 2s).samples);
                const auto finished = practice.all<TrialFinished>();
                REQUIRE(finished.size() == 1);
                CHECK(std::abs(time_of(finished[0].hold.onset, kRate).count() - 13.5) < 0.06);
            }
        }
    }
}

TEST_CASE("in a living room she is listened to soon after the note")
{
    for (const Loudspeaker& l : kLoudspeakers) {
        CAPTURE(l.gain.value);
        Practice practice;
        ask_for(practice, kF4);
        practice.hear(heard_of(in_a_room(asked_for(kF4), 400ms, 4s), l));
        CHECK(practice.stages().back() == Stage::ready);
    }
}

TEST_CASE("a noise that comes up while the note dies down does not keep her waiting")
{
    Practice practice;
    ask_for(practice, kF4);
    std::vector<float> heard = heard_of(in_a_room(asked_for(kF4), 400ms, 8s), kLoudspeakers[0]);
    const std::vector<float> fan = SignalScript{kRate, 15}
                                       .silence(6s)
                                       .with_noise(NoiseKind::pink, Dbfs{-45.0})
                                       .build()
                                       .samples;
    for (std::size_t i = 0; i < fan.size(); ++i) heard[96'000 + i] += fan[i];
    practice.hear(heard);
    CHECK(practice.stages().back() == Stage::ready);
    CHECK(judged(practice) == 0);
}

TEST_CASE("a voice that goes on for long after the note is waited out, not timed from its middle")
{
    const ScriptedTake take = SignalScript{kRate, 16}
                                  .silence(2s)
                                  .voice({.f0 = steady(kF4Hz)}, 6s)  // begun before she was asked
                                  .silence(2s)
                                  .voice({.f0 = steady(kF4Hz)}, 3s)
                                  .silence(1s)
                                  .with_noise(NoiseKind::pink, Dbfs{-70.0})
                                  .build();
    Practice practice;
    ask_for(practice, kF4);
    practice.hear(take.samples);
    const auto finished = practice.all<TrialFinished>();
    REQUIRE(finished.size() == 1);
    const double begin = take.sounds.back().heard_begin.count();
    CHECK(std::abs(time_of(finished[0].hold.onset, kRate).count() - 1.0 - begin) < 0.03);
}
