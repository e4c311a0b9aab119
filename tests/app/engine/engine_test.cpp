// Every sound is scripted (tests/support), so that the true times and pitches are known; the
// engine's clock is the sample index.

#include "app/engine/engine.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <variant>
#include <vector>

#include "dsp/reference_tone.h"
#include "tests/app/engine/heard_engine.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr double kEdgeTolerance = 0.030;  // s, at either end; of the scripted edges

}  // namespace

TEST_CASE("a held note is followed and then reported with its length, its band and its pitch")
{
    struct Row {
        const char* name;
        Hertz sung_at;
        double deviation;  // cents, true
        double share_in_band;
        int octaves;
    };
    // transposed() is a formula (1200 cents to the octave); the band is 100 cents to each side.
    const std::array<Row, 5> rows{{{"on F4", kF4Hz, 0.0, 1.0, 0},
                                   {"40 cents sharp", transposed(kF4Hz, {40.0}), 40.0, 1.0, 0},
                                   {"90 cents flat", transposed(kF4Hz, {-90.0}), -90.0, 1.0, 0},
                                   {"150 cents flat", transposed(kF4Hz, {-150.0}), -150.0, 0.0, 0},
                                   {"an octave low", kF3Hz, -1200.0, 0.0, -1}}};
    for (const Row& row : rows) {
        CAPTURE(row.name);
        const bool first = &row == rows.data();
        const ScriptedTake take = sung({.f0 = steady(row.sung_at)}, first ? 5s : 2s);
        Practice practice;
        practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
        practice.hear(take.samples);

        CHECK(practice.stages() ==
              std::vector<Stage>{Stage::ready, Stage::sounding, Stage::finished});
        const auto finished = practice.all<TrialFinished>();
        REQUIRE(finished.size() == 1);
        const Hold& hold = finished[0].hold;
        const TrueSound& truth = take.sounds.front();
        const double length = (truth.heard_end - truth.heard_begin).count();
        CHECK(std::abs(time_of(hold.onset, kRate).count() - truth.heard_begin.count()) <
              kEdgeTolerance);
        CHECK(std::abs(time_of(hold.offset, kRate).count() - truth.heard_end.count()) <
              kEdgeTolerance);
        REQUIRE(hold.deviation);
        CHECK(std::abs(hold.deviation->value - row.deviation) < 5.0);
        REQUIRE(hold.in_band);
        CHECK(std::abs(hold.in_band->count() - row.share_in_band * length) < 0.1);
        CHECK(hold.octaves_off == row.octaves);
        CHECK(hold.interruptions.empty());
        CHECK_FALSE(hold.has_gap);
        CHECK(finished[0].drill.target == kF4);
    }
}

TEST_CASE("the clock that is shown while a note is held runs with the voice and never back")
{
    const ScriptedTake take = sung({.f0 = steady(kF4Hz)}, 3s);
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.hear(take.samples);
    const double begin = take.sounds.front().heard_begin.count();
    Seconds before{};
    int shown = 0;
    for (const FrameHeard& frame : practice.all<FrameHeard>()) {
        if (!frame.under_way) continue;
        ++shown;
        CHECK(frame.under_way->so_far >= before);
        before = frame.under_way->so_far;
        const double now = time_of(frame.reading.centre, kRate).count();
        if (now > begin + 0.2 && now < 3.4) {
            CHECK(std::abs(before.count() - (now - begin)) < 2.0 * kEdgeTolerance);
        }
    }
    CHECK(shown > 250);  // of 300 hops
}

TEST_CASE("the note is played, the room dies down, and then the client is listened to")
{
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.hear(quiet(1s));
    practice.tell(HearNote{});
    const auto request = practice.tone();
    REQUIRE(request);
    CHECK(request->f0.value == doctest::Approx(kF4Hz.value).epsilon(1e-5));
    CHECK_FALSE(practice.tone());  // asked for once

    // The loudspeaker's way into the microphone: 150 ms late and half as strong.
    std::vector<float> heard = quiet(5s);
    const std::vector<float> tone = samples_of({request->f0, request->length, kRate});
    for (std::size_t i = 0; i < tone.size(); ++i) heard[7200 + i] += 0.5f * tone[i];
    practice.hear(heard);

    CHECK(practice.stages() ==
          std::vector<Stage>{Stage::ready, Stage::playing, Stage::settling, Stage::ready});
    CHECK(practice.all<TrialFinished>().empty());
    CHECK(practice.all<TrialDiscarded>().empty());
    for (const FrameHeard& frame : practice.all<FrameHeard>()) CHECK_FALSE(frame.under_way);

    practice.hear(sung({.f0 = steady(kF4Hz)}, 2s).samples);
    const auto finished = practice.all<TrialFinished>();
    REQUIRE(finished.size() == 1);
    CHECK(finished[0].hold.onset.value > 6 * 48'000);
}

TEST_CASE("no trial is armed until our tone is over and the room has been quiet")
{
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.tell(HearNote{});
    const auto request = practice.tone();
    REQUIRE(request);
    practice.hear(quiet(4s));
    CHECK(practice.entered(Stage::settling) >= request->length.count());
    const auto stages = practice.stages();
    REQUIRE(stages.size() == 4);
    CHECK(stages.back() == Stage::ready);
}

TEST_CASE("any other tone can be asked for, and is judged as little as the note")
{
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.tell(HearTone{Hertz{370.0}});
    const auto request = practice.tone();
    REQUIRE(request);
    CHECK(request->f0 == Hertz{370.0});
    practice.hear(samples_of({request->f0, request->length, kRate}));
    CHECK_FALSE(has_stage(practice.stages(), Stage::sounding));
}

TEST_CASE("a voice that still sounds when the next trial is armed is waited out")
{
    // Paused in the middle of a note, and armed again while it goes on.
    const ScriptedTake take = SignalScript{kRate, 13}
                                  .silence(500ms)
                                  .voice({.f0 = steady(kF4Hz)}, 3s)
                                  .silence(1500ms)
                                  .voice({.f0 = steady(kF4Hz)}, 2s)
                                  .silence(1s)
                                  .with_noise(NoiseKind::pink, Dbfs{-70.0})
                                  .build();
    const std::span<const float> all{take.samples};
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.tell(PauseListening{});
    practice.hear(all.first(72'000));  // 1.5 s: a second into the note
    practice.tell(ArmTrial{});
    practice.hear(all.subspan(72'000));

    CHECK(practice.stages() == std::vector<Stage>{Stage::ready, Stage::paused, Stage::settling,
                                                  Stage::ready, Stage::sounding, Stage::finished});
    const auto finished = practice.all<TrialFinished>();
    REQUIRE(finished.size() == 1);
    const TrueSound& second = take.sounds.back();
    CHECK(std::abs(time_of(finished[0].hold.onset, kRate).count() - second.heard_begin.count()) <
          kEdgeTolerance);
}

TEST_CASE("a voice too short for a trial is said to be discarded, and the next is awaited")
{
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.hear(sung({.f0 = steady(kF4Hz)}, 600ms).samples);
    CHECK(practice.stages() == std::vector<Stage>{Stage::ready, Stage::sounding, Stage::ready});
    CHECK(practice.all<TrialFinished>().empty());
    const auto discarded = practice.all<TrialDiscarded>();
    REQUIRE(discarded.size() == 1);
    CHECK(std::abs(discarded[0].duration.count() - 0.6) < 0.1);
}

TEST_CASE("lost samples are counted exactly and mark the hold they fall into")
{
    const ScriptedTake take = sung({.f0 = steady(kF4Hz)}, 4s);
    const std::span<const float> all{take.samples};
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.hear(all.first(96'000));
    practice.lose({777});
    practice.hear(all.subspan(96'000 + 777, 48'000));
    practice.lose({1000});
    practice.hear(all.subspan(96'000 + 777 + 48'000 + 1000));

    const auto lost = practice.all<SamplesLost>();
    REQUIRE(lost.size() == 2);
    CHECK(lost[0].count == SampleCount{777});
    CHECK(lost[1].count == SampleCount{1777});  // in all
    const auto finished = practice.all<TrialFinished>();
    REQUIRE(finished.size() == 1);
    const Hold& hold = finished[0].hold;
    CHECK(hold.has_gap);
    // Time went on while samples were lost.
    const TrueSound& truth = take.sounds.front();
    CHECK(std::abs(time_of(hold.offset, kRate).count() - truth.heard_end.count()) < 0.05);
}

TEST_CASE("samples lost before a hold do not mark it")
{
    const ScriptedTake take = sung({.f0 = steady(kF4Hz)}, 2s);
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.hear(quiet(1s));
    practice.lose({4800});
    practice.hear(take.samples);
    const auto finished = practice.all<TrialFinished>();
    REQUIRE(finished.size() == 1);
    CHECK_FALSE(finished[0].hold.has_gap);
}

TEST_CASE("a hold that the end of the recording cuts off is reported as such")
{
    const ScriptedTake take = sung({.f0 = steady(kF4Hz)}, 3s);
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.hear(std::span<const float>{take.samples}.first(120'000));  // 2 s of it
    practice.end_of_stream();
    const auto finished = practice.all<TrialFinished>();
    REQUIRE(finished.size() == 1);
    CHECK(finished[0].hold.ended_by == HoldEnd::stream_ended);
    CHECK(std::abs(seconds(finished[0].hold.offset - finished[0].hold.onset) - 2.0) < 0.06);
}

TEST_CASE("nothing is judged while listening is paused")
{
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.tell(PauseListening{});
    practice.hear(sung({.f0 = steady(kF4Hz)}, 2s).samples);
    practice.end_of_stream();
    CHECK(practice.all<TrialFinished>().empty());
    CHECK(practice.all<TrialDiscarded>().empty());
    CHECK(practice.stages() == std::vector<Stage>{Stage::ready, Stage::paused});
    CHECK(practice.all<FrameHeard>().size() > 300);  // still heard: 3.5 s of hops
}

TEST_CASE("once a trial has finished the next voice waits for the next trial")
{
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.hear(sung({.f0 = steady(kF4Hz)}, 2s).samples);
    practice.hear(sung({.f0 = steady(kF4Hz)}, 2s).samples);
    CHECK(practice.all<TrialFinished>().size() == 1);
    practice.tell(ArmTrial{});
    practice.hear(sung({.f0 = steady(kF4Hz)}, 2s).samples);
    const auto finished = practice.all<TrialFinished>();
    REQUIRE(finished.size() == 2);
    // The third voice, which begins 7.5 s in: each is 3.5 s with its silence.
    CHECK(std::abs(time_of(finished[1].hold.onset, kRate).count() - 7.5) < 2.0 * kEdgeTolerance);
}
