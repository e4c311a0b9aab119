// What the engine says of the microphone and of the voice's loudness.

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <string>

#include "dsp/sibilant.h"
#include "tests/app/engine/heard_engine.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

std::vector<float> note_at(Dbfs level, std::uint64_t seed)
{
    return SignalScript{kRate, seed}
        .silence(500ms)
        .voice({.f0 = steady(kF4Hz), .level = level}, 3s)
        .silence(1s)
        .with_noise(NoiseKind::pink, Dbfs{-75.0})
        .build()
        .samples;
}

std::vector<float> checked_at(Dbfs comfortable)
{
    return SignalScript{kRate, 20}
        .silence(2500ms)
        .voice({.f0 = steady({330.0}), .level = comfortable}, 3s)
        .silence(1s)
        .with_noise(NoiseKind::pink, Dbfs{-75.0})
        .build()
        .samples;
}

}  // namespace

TEST_CASE("/s/ and /z/ are refused below 44.1 kHz, with the reason, and other drills are not")
{
    struct Row {
        double rate;
        DrillKind kind;
        bool refused;
    };
    // 44.1 kHz: the lowest common rate whose half, 22 kHz, holds the hiss of an /s/ (4 .. 11 kHz)
    // with room to spare; wireless headsets send 8 or 16 kHz.
    constexpr std::array<Row, 7> kRows{{{16'000.0, DrillKind::s_hold, true},
                                        {8'000.0, DrillKind::z_hold, true},
                                        {32'000.0, DrillKind::s_hold, true},
                                        {44'100.0, DrillKind::s_hold, false},
                                        {48'000.0, DrillKind::z_hold, false},
                                        {16'000.0, DrillKind::warm_up_hold, false},
                                        {8'000.0, DrillKind::rising_glide, false}}};
    for (const Row& row : kRows) {
        CAPTURE(row.rate);
        Practice practice{{row.rate}};
        practice.tell(BeginDrill{drill_of(row.kind)});
        const auto refused = practice.all<DrillRefused>();
        CHECK(refused.size() == (row.refused ? 1 : 0));
        CHECK(practice.stages().back() == (row.refused ? Stage::paused : Stage::ready));
        if (!row.refused) continue;
        REQUIRE(refused.size() == 1);
        CHECK(refused[0].drill.kind == row.kind);
        const std::string rate = std::to_string(static_cast<int>(row.rate));
        CHECK(refused[0].sentence.find(rate + " samples a second") != std::string::npos);
        CHECK(refused[0].sentence.find("another microphone") != std::string::npos);
    }
}

TEST_CASE("a refused drill stays refused when it is armed again, and the next drill is heard")
{
    Practice practice{{16'000.0}};
    practice.tell(BeginDrill{drill_of(DrillKind::s_hold)});
    practice.tell(ArmTrial{});
    practice.tell(HearNote{});
    CHECK(practice.all<DrillRefused>().size() == 2);
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    CHECK(practice.stages().back() == Stage::ready);
}

TEST_CASE("holds are as loud as they are beside the comfortable voice of the sound check")
{
    // The level is in the script; the guard's limits are 8 dB for a second (dsp/loudness.h).
    struct Row {
        double over;  // dB
        Loudness loudness;
    };
    constexpr std::array<Row, 4> kRows{{{-6.0, Loudness::as_asked},
                                        {0.0, Loudness::as_asked},
                                        {6.0, Loudness::as_asked},
                                        {12.0, Loudness::much_louder}}};
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.tell(BeginSoundCheck{});
    practice.hear(checked_at(Dbfs{-34.0}));
    REQUIRE(practice.all<SoundCheckFinished>().size() == 1);
    for (const Row& row : kRows) {
        practice.tell(ArmTrial{});
        practice.hear(note_at(Dbfs{-34.0 + row.over}, 21));
    }
    const auto finished = practice.all<TrialFinished>();
    REQUIRE(finished.size() == kRows.size());
    for (std::size_t i = 0; i < kRows.size(); ++i) {
        CAPTURE(kRows[i].over);
        REQUIRE(finished[i].over_comfortable);
        CHECK(std::abs(finished[i].over_comfortable->value - kRows[i].over) < 1.0);
        CHECK(finished[i].loudness == kRows[i].loudness);
    }
}

TEST_CASE("before a sound check loudness is not known, and a level from the records makes it so")
{
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.hear(note_at(Dbfs{-20.0}, 22));
    practice.tell(UseComfortableLevel{Dbfs{-40.0}});
    practice.tell(ArmTrial{});
    practice.hear(note_at(Dbfs{-20.0}, 22));
    const auto finished = practice.all<TrialFinished>();
    REQUIRE(finished.size() == 2);
    CHECK_FALSE(finished[0].over_comfortable);
    CHECK(finished[0].loudness == Loudness::unknown);
    REQUIRE(finished[1].over_comfortable);
    CHECK(std::abs(finished[1].over_comfortable->value - 20.0) < 1.0);
    CHECK(finished[1].loudness == Loudness::much_louder);
}

TEST_CASE("a z, voice and hiss at once, is timed as one")
{
    constexpr NoiseKind kRoom = NoiseKind::pink;
    std::vector<float> z = SignalScript{kRate, 23}
                               .silence(1s)
                               .voice({.f0 = steady({180.0}), .level = Dbfs{-32.0}}, 4s)
                               .silence(1s)
                               .with_noise(kRoom, Dbfs{-75.0})
                               .build()
                               .samples;
    const std::vector<float> hiss = SignalScript{kRate, 24}
                                        .silence(1s)
                                        .air(NoiseKind::sibilant, 4s, Dbfs{-30.0})
                                        .silence(1s)
                                        .build()
                                        .samples;
    REQUIRE(z.size() == hiss.size());
    for (std::size_t i = 0; i < z.size(); ++i) z[i] += hiss[i];
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::z_hold)});
    practice.hear(z);
    CHECK(practice.stages() == std::vector<Stage>{Stage::ready, Stage::sounding, Stage::finished});
    const auto heard = practice.all<SibilantFinished>();
    REQUIRE(heard.size() == 1);
    CHECK(heard[0].drill.kind == DrillKind::z_hold);
    // 60 ms: the allowance that is asked of the duration of an /s/.
    CHECK(std::abs(seconds(heard[0].sibilant.offset - heard[0].sibilant.onset) - 4.0) < 0.06);
    CHECK(practice.all<TrialFinished>().empty());
}

TEST_CASE("a vowel is no z, and an s is none either")
{
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::z_hold)});
    practice.hear(note_at(Dbfs{-26.0}, 25));
    practice.hear(SignalScript{kRate, 26}
                      .silence(1s)
                      .air(NoiseKind::sibilant, 3s, Dbfs{-30.0})
                      .silence(1s)
                      .with_noise(NoiseKind::pink, Dbfs{-75.0})
                      .build()
                      .samples);
    CHECK(practice.all<SibilantFinished>().empty());
}

TEST_CASE("a gain that comes up again after a voice is told, and beginnings are unsure from then")
{
    std::vector<float> take = SignalScript{kRate, 27}
                                  .silence(2s)
                                  .voice({.f0 = steady(kF4Hz), .level = Dbfs{-26.0}}, 2s)
                                  .silence(4500ms)
                                  .voice({.f0 = steady(kF4Hz), .level = Dbfs{-26.0}}, 2s)
                                  .silence(1s)
                                  .with_noise(NoiseKind::pink, Dbfs{-58.0})
                                  .build()
                                  .samples;
    // From the voice on 14 dB less; after it 6 dB more every second.
    for (std::size_t i = 0; i < take.size(); ++i) {
        const double t = static_cast<double>(i) / kRate.hz;
        const double down = t < 2.0   ? 0.0
                            : t < 4.0 ? -14.0
                                      : std::min(0.0, -14.0 + 6.0 * (t - 4.0));
        take[i] = static_cast<float>(take[i] * std::pow(10.0, down / 20.0));
    }
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    const std::span<const float> all{take};
    practice.hear(all.first(8 * 48'000));
    practice.tell(ArmTrial{});
    practice.hear(all.subspan(8 * 48'000));
    const auto told = practice.all<ProcessingChanged>();
    REQUIRE(told.size() == 1);
    CHECK(told[0].heard == MicrophoneProcessing::gain_control);
    const auto finished = practice.all<TrialFinished>();
    REQUIRE(finished.size() == 2);
    CHECK(finished[1].hold.start.named == OnsetClass::unsure);
}

TEST_CASE("thresholds that were learnt from the therapist name the beginnings from then on")
{
    // A rise of 60 ms (raised cosine, 10 to 90 % of its amplitude) is easy as usual; hers put the
    // boundary at 100 ms.
    const auto with_rise = [] {
        return SignalScript{kRate, 28}
            .silence(1s)
            .voice({.f0 = steady(kF4Hz), .level = Dbfs{-26.0}, .attack = Seconds{0.1}}, 2s)
            .silence(1s)
            .with_noise(NoiseKind::pink, Dbfs{-75.0})
            .build()
            .samples;
    };
    Practice practice;
    practice.tell(BeginDrill{drill_of(DrillKind::warm_up_hold)});
    practice.hear(with_rise());
    OnsetThresholds hers;
    hers.hard_rise = 100ms;
    hers.hard_rise_with_click = 120ms;
    hers.easy_rise = 140ms;
    practice.tell(UseOnsetThresholds{hers});
    practice.tell(ArmTrial{});
    practice.hear(with_rise());
    const auto finished = practice.all<TrialFinished>();
    REQUIRE(finished.size() == 2);
    CHECK(finished[0].hold.start.named == OnsetClass::easy);
    CHECK(finished[1].hold.start.named == OnsetClass::hard);
    REQUIRE(finished[1].hold.start.features);
    CHECK(std::abs(finished[1].hold.start.features->rise.count() - 0.0590) < 0.02);
}
