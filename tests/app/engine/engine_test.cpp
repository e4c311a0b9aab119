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
#include "tests/support/signal_script.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr SampleRate kRate{48'000.0};
// Equal temperament from A4 = 440 Hz (ISO 16): 440 * 2^(-4/12) and an octave below.
constexpr Hertz kF4Hz{349.228};
constexpr Hertz kF3Hz{174.614};
constexpr double kEdgeTolerance = 0.030;  // s, at either end; of the scripted edges

// Of F4, where it has a target.
Drill drill_of(DrillKind kind)
{
    Drill drill;
    drill.kind = kind;
    drill.target = kF4;
    return drill;
}

// An engine, what it is fed, and all it said.
class Practice {
public:
    void tell(const Command& command)
    {
        engine_.apply(command);
        collect();
    }

    void hear(std::span<const float> samples)
    {
        while (!samples.empty()) {
            AudioBlock block;
            block.begin = next_;
            block.count = std::min(samples.size(), AudioBlock::kCapacity);
            std::copy_n(samples.begin(), block.count, block.samples.begin());
            engine_.push(block);
            collect();
            next_ = next_ + SampleCount{static_cast<std::int64_t>(block.count)};
            samples = samples.subspan(block.count);
        }
    }

    void lose(SampleCount n) { next_ = next_ + n; }

    void end_of_stream()
    {
        engine_.finish();
        collect();
    }

    std::optional<ToneRequest> tone() { return engine_.take_tone_request(); }

    template <class T>
    std::vector<T> all() const
    {
        std::vector<T> found;
        for (const Update& u : log_) {
            if (const auto* t = std::get_if<T>(&u)) found.push_back(*t);
        }
        return found;
    }

    std::vector<Stage> stages() const
    {
        std::vector<Stage> found;
        for (const StageChanged& s : all<StageChanged>()) found.push_back(s.stage);
        return found;
    }

    // When a stage was entered first, in seconds of what was heard.
    double entered(Stage stage) const
    {
        double hops = 0.0;
        for (const Update& u : log_) {
            if (std::holds_alternative<FrameHeard>(u)) ++hops;
            const auto* s = std::get_if<StageChanged>(&u);
            if (s && s->stage == stage) return hops * 0.010;
        }
        return -1.0;
    }

private:
    void collect()
    {
        for (Update& u : engine_.take_updates()) log_.push_back(std::move(u));
    }

    Engine engine_{AnalysisConfig{}};
    SampleIndex next_{};
    std::vector<Update> log_;
};

// In a quiet room, half a second before and a second after.
ScriptedTake sung(const Voice& voice, Seconds length)
{
    return SignalScript{kRate, 11}
        .silence(500ms)
        .voice(voice, length)
        .silence(1s)
        .with_noise(NoiseKind::pink, Dbfs{-70.0})
        .build();
}

std::vector<float> quiet(Seconds length)
{
    return SignalScript{kRate, 12}
        .silence(length)
        .with_noise(NoiseKind::pink, Dbfs{-70.0})
        .build()
        .samples;
}

bool has_stage(const std::vector<Stage>& stages, Stage sought)
{
    return std::ranges::find(stages, sought) != stages.end();
}

double seconds(SampleCount n) { return duration_of(n, kRate).count(); }

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

TEST_CASE("glides and the sounds s and z are reported in their own words")
{
    SUBCASE("a rising glide")
    {
        Practice practice;
        practice.tell(BeginDrill{drill_of(DrillKind::rising_glide)});
        practice.hear(sung({.f0 = glide({180.0}, {520.0}, 3s)}, 3s).samples);
        const auto glides = practice.all<GlideFinished>();
        REQUIRE(glides.size() == 1);
        CHECK(glides[0].glide.direction == GlideDirection::up);
        CHECK(std::abs(seconds(glides[0].glide.offset - glides[0].glide.onset) - 3.0) < 0.1);
        CHECK(practice.all<TrialFinished>().empty());
    }
    SUBCASE("a falling glide")
    {
        Practice practice;
        practice.tell(BeginDrill{drill_of(DrillKind::falling_glide)});
        practice.hear(sung({.f0 = glide({520.0}, {180.0}, 3s)}, 3s).samples);
        const auto glides = practice.all<GlideFinished>();
        REQUIRE(glides.size() == 1);
        CHECK(glides[0].glide.direction == GlideDirection::down);
    }
    SUBCASE("an s")
    {
        const ScriptedTake take = SignalScript{kRate, 14}
                                      .silence(1s)
                                      .air(NoiseKind::sibilant, 4s, Dbfs{-30.0})
                                      .silence(1s)
                                      .with_noise(NoiseKind::pink, Dbfs{-70.0})
                                      .build();
        Practice practice;
        practice.tell(BeginDrill{drill_of(DrillKind::s_hold)});
        practice.hear(take.samples);
        const auto heard = practice.all<SibilantFinished>();
        REQUIRE(heard.size() == 1);
        CHECK(heard[0].drill.kind == DrillKind::s_hold);
        CHECK(std::abs(seconds(heard[0].sibilant.offset - heard[0].sibilant.onset) - 4.0) < 0.06);
        CHECK(practice.stages().back() == Stage::finished);
    }
}

namespace {

// What the check says at this rate of a hum of 100 Hz and -40 dBFS, in which somebody sings from 3 s
// on.
std::optional<SoundCheckFinished> check_with_hum(SampleRate rate)
{
    std::vector<float> x(static_cast<std::size_t>(6.0 * rate.hz));
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double t = static_cast<double>(i) / rate.hz;
        const double hum = 0.01 * std::sqrt(2.0) * std::sin(2.0 * 3.141592653589793 * 100.0 * t);
        double voice = 0.0;
        for (int k = 1; k <= 6 && t > 3.0; ++k)
            voice += 0.2 / k * std::sin(2.0 * 3.141592653589793 * 230.0 * k * t);
        x[i] = static_cast<float>(hum + voice);
    }
    Engine engine{AnalysisConfig{.sample_rate = rate}};
    engine.apply(BeginSoundCheck{});
    for (std::size_t at = 0; at < x.size(); at += AudioBlock::kCapacity) {
        AudioBlock block{.begin = {static_cast<std::int64_t>(at)}};
        block.count = std::min(x.size() - at, AudioBlock::kCapacity);
        std::copy_n(x.begin() + static_cast<std::ptrdiff_t>(at), block.count,
                    block.samples.begin());
        engine.push(block);
    }
    for (const Update& u : engine.take_updates())
        if (const auto* finished = std::get_if<SoundCheckFinished>(&u)) return *finished;
    return std::nullopt;
}

}  // namespace

TEST_CASE("the sound check gives the room's level A-weighted, where there is a filter for the rate")
{
    for (const double rate_hz : {44'100.0, 48'000.0, 96'000.0}) {
        CAPTURE(rate_hz);
        const auto result = check_with_hum({rate_hz});
        REQUIRE(result);
        REQUIRE(result->a_weighted_room);
        // -19.1 dB at 100 Hz: IEC 61672-1:2013, table 3.
        CHECK(std::abs(result->a_weighted_room->value - (-40.0 - 19.1)) < 0.5);
        CHECK(std::abs(result->noise_floor.value + 40.0) < 1.5);
    }
    const auto result = check_with_hum({16'000.0});
    REQUIRE(result);
    CHECK_FALSE(result->a_weighted_room);
}

TEST_CASE("the sound check measures the room, then a voice, and says what the room allows")
{
    struct Row {
        const char* name;
        double voice_over_room;  // dB in the voice band
        RoomVerdict verdict;
    };
    constexpr std::array<Row, 3> kRows{{{"quiet", 35.0, RoomVerdict::quiet},
                                        {"usable", 15.0, RoomVerdict::usable},
                                        {"noisy", 7.0, RoomVerdict::noisy}}};
    for (const Row& row : kRows) {
        CAPTURE(row.name);
        // White noise up to 24 kHz has 10 log10(7930 / 24000) = -4.8 dB of itself in 70 Hz .. 8
        // kHz.
        const Dbfs room_in_band{-26.0 - row.voice_over_room};
        const ScriptedTake take = SignalScript{kRate, 15}
                                      .silence(2500ms)
                                      .voice({.f0 = steady({220.0}), .level = Dbfs{-26.0}}, 3s)
                                      .silence(300ms)
                                      .with_noise(NoiseKind::white, room_in_band + Decibels{4.8})
                                      .build();
        Practice practice;
        practice.tell(BeginSoundCheck{});
        practice.hear(take.samples);
        CHECK(practice.stages() ==
              std::vector<Stage>{Stage::checking_room, Stage::checking_voice, Stage::paused});
        const auto result = practice.all<SoundCheckFinished>();
        REQUIRE(result.size() == 1);
        CHECK(result[0].room == row.verdict);
        CHECK(std::abs(result[0].noise_floor.value - room_in_band.value) < 1.5);
        // The room's power adds to the voice's.
        const double both = 10.0 * std::log10(1.0 + std::pow(10.0, -row.voice_over_room / 10.0));
        CHECK(std::abs(result[0].voice_level.value - (-26.0 + both)) < 1.5);
        CHECK(result[0].clipped_samples == 0);
        CHECK(practice.all<TrialFinished>().empty());
    }
}
