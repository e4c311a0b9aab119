// The other drills, and the sound check: what the engine says of them.

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "tests/app/engine/heard_engine.h"

using namespace holdwell;
using namespace holdwell::test;

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

TEST_CASE("samples lost in a glide, or where an s ends with them, mark it, and no others do")
{
    const std::vector<float> rise = sung({.f0 = glide({180.0}, {520.0}, 3s)}, 3s).samples;
    const std::vector<float> hiss = SignalScript{kRate, 14}
                                        .silence(1s)
                                        .air(NoiseKind::sibilant, 4s, Dbfs{-30.0})
                                        .silence(1s)
                                        .with_noise(NoiseKind::pink, Dbfs{-70.0})
                                        .build()
                                        .samples;
    struct Row {
        const char* where;
        std::size_t from;
        std::size_t lost;
        bool marks;
    };
    // Either sounds from 1 s to 3.5 s at least.
    for (const Row& row : {Row{"nowhere", 96'000, 0, false}, Row{"before it", 9'600, 4'800, false},
                           Row{"in it", 96'000, 4'800, true}}) {
        CAPTURE(row.where);
        const auto hear = [&row](Practice& practice, std::span<const float> samples) {
            practice.hear(samples.first(row.from));
            practice.lose({static_cast<std::int64_t>(row.lost)});
            practice.hear(samples.subspan(row.from + row.lost));
        };
        Practice gliding;
        gliding.tell(BeginDrill{drill_of(DrillKind::rising_glide)});
        hear(gliding, rise);
        const auto glides = gliding.all<GlideFinished>();
        REQUIRE(glides.size() == 1);
        CHECK(glides[0].glide.has_gap == row.marks);
        Practice hissing;
        hissing.tell(BeginDrill{drill_of(DrillKind::s_hold)});
        hear(hissing, hiss);
        const auto hisses = hissing.all<SibilantFinished>();
        REQUIRE(hisses.size() == 1);
        CHECK(hisses[0].sibilant.has_gap == row.marks);
    }
}

namespace {

// What the check says at this rate of a hum of 100 Hz and -40 dBFS, in which somebody sings from 3
// s on.
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
