// Every recording is scripted (tests/support): its truth is known to the sample.

#include "dsp/listener.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <vector>

#include "tests/support/signal_script.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr SampleRate kRate{48'000.0};
constexpr Hertz kF4Hz{349.228};  // 440 * 2^(-4/12), ISO 16

Heard listen(const ScriptedTake& take, const ListeningTask& task, std::size_t block = 480)
{
    Listener listener{AnalysisConfig{.sample_rate = take.rate}, task};
    std::span<const float> rest{take.samples};
    while (!rest.empty()) {
        const std::size_t n = std::min(block, rest.size());
        listener.push(rest.first(n));
        rest = rest.subspan(n);
    }
    listener.finish();
    return listener.take_finished();
}

ListeningTask hold_task()
{
    ListeningTask task;
    task.sought = Sought::hold;
    task.target = kF4Hz;
    return task;
}

ScriptedTake in_quiet_room(const Voice& voice, Seconds length)
{
    return SignalScript{kRate, 21}
        .silence(600ms)
        .voice(voice, length)
        .silence(1s)
        .with_noise(NoiseKind::pink, Dbfs{-70.0})
        .build();
}

double length_of(const Hold& hold) { return duration_of(hold.offset - hold.onset, kRate).count(); }

}  // namespace

TEST_CASE("the same samples give the same results in blocks of any size")
{
    const ScriptedTake take =
        in_quiet_room({.f0 = vibrato(kF4Hz, {{5.5}, {40.0}}), .gaps = {{800ms, 100ms}}}, 2s);
    const Heard once = listen(take, hold_task(), take.samples.size());
    REQUIRE(once.holds.size() == 1);
    for (const std::size_t block : {1U, 7U, 64U, 480U, 4096U}) {
        CAPTURE(block);
        const Heard heard = listen(take, hold_task(), block);
        REQUIRE(heard.holds.size() == 1);
        const Hold& a = once.holds[0];
        const Hold& b = heard.holds[0];
        CHECK(a.onset == b.onset);
        CHECK(a.offset == b.offset);
        CHECK(a.f0_median == b.f0_median);
        CHECK(a.f0_sd == b.f0_sd);
        CHECK(a.deviation == b.deviation);
        CHECK(a.in_band == b.in_band);
        CHECK(a.level == b.level);
        CHECK(a.interruptions.size() == b.interruptions.size());
        CHECK(a.start.rise == b.start.rise);
    }
}

TEST_CASE("readings come once a hop, whatever the blocks")
{
    Listener listener{AnalysisConfig{}, ListeningTask{}};
    const std::vector<float> silence(1003, 0.0f);
    int readings = 0;
    const auto count = [&readings](const FrameReading&) { ++readings; };
    listener.push(silence, count);
    CHECK(readings == 2);  // hops of 480
    listener.push(silence, count);
    CHECK(readings == 4);
    CHECK(listener.position() == SampleIndex{2006});
    listener.skip({94});
    CHECK(listener.position() == SampleIndex{2100});
}

TEST_CASE("a gap of 100 ms in a hold is one interruption, of its true length and place")
{
    const ScriptedTake take = in_quiet_room({.f0 = steady(kF4Hz), .gaps = {{1500ms, 100ms}}}, 4s);
    const Heard heard = listen(take, hold_task());
    REQUIRE(heard.holds.size() == 1);
    const Hold& hold = heard.holds[0];
    CHECK(std::abs(length_of(hold) - 4.0) < 0.06);
    REQUIRE(hold.interruptions.size() == 1);
    CHECK(std::abs(time_of(hold.interruptions[0].at, kRate).count() - 2.1) < 0.030);
    CHECK(std::abs(hold.interruptions[0].duration.count() - 0.1) < 0.030);
}

TEST_CASE("a gap shorter than the bridge is crossed, a longer one ends the hold")
{
    struct Row {
        Seconds gap;
        Seconds bridge;
        std::size_t holds;
    };
    constexpr std::array<Row, 4> kRows{
        {{200ms, 300ms, 1}, {400ms, 300ms, 2}, {200ms, 100ms, 2}, {400ms, 500ms, 1}}};
    for (const Row& row : kRows) {
        CAPTURE(row.gap.count());
        CAPTURE(row.bridge.count());
        const ScriptedTake take =
            in_quiet_room({.f0 = steady(kF4Hz), .gaps = {{1500ms, row.gap}}}, 3500ms);
        ListeningTask task = hold_task();
        task.bridge = row.bridge;
        CHECK(listen(take, task).holds.size() == row.holds);
    }
}

TEST_CASE("a hold shorter than the shortest that is asked for is left out")
{
    const ScriptedTake take = in_quiet_room({.f0 = steady(kF4Hz)}, 1500ms);
    for (const double shortest : {0.5, 1.0, 1.4, 1.6, 3.0}) {
        CAPTURE(shortest);
        ListeningTask task = hold_task();
        task.shortest = Seconds{shortest};
        CHECK(listen(take, task).holds.size() == (shortest < 1.5 ? 1U : 0U));
    }
}

TEST_CASE("a voice at -50 dBFS in a room at -75 dBFS is followed for fifteen seconds")
{
    const ScriptedTake take =
        SignalScript{kRate, 22}
            .silence(1s)
            .voice({.f0 = drift(kF4Hz, {15.0}, 3), .hnr = Decibels{20.0}, .level = Dbfs{-50.0}},
                   15s)
            .silence(1s)
            .with_noise(NoiseKind::pink, Dbfs{-75.0})
            .build();
    const Heard heard = listen(take, hold_task());
    REQUIRE(heard.holds.size() == 1);
    CHECK(std::abs(length_of(heard.holds[0]) - 15.0) < 0.1);
}

TEST_CASE("a pitch that wanders off by five semitones and back does not stop the clock of a hold")
{
    const Contour wander = [](Seconds t) {
        const double share = std::clamp((t.count() - 2.0) / 2.0, 0.0, 1.0);
        return transposed(kF4Hz, {500.0 * std::sin(3.14159265 * share)});
    };
    const ScriptedTake take = in_quiet_room({.f0 = wander}, 6s);
    const Heard heard = listen(take, hold_task());
    REQUIRE(heard.holds.size() == 1);
    CHECK(std::abs(length_of(heard.holds[0]) - 6.0) < 0.06);
    // Within 100 of 500 sin(pi s) cents for s < asin(0.2) / pi = 0.064 at either end of the 2 s.
    REQUIRE(heard.holds[0].in_band);
    CHECK(std::abs(heard.holds[0].in_band->count() - (4.0 + 2.0 * 2.0 * 0.064)) < 0.1);
}

TEST_CASE("what is no voice is never timed as a hold")
{
    SignalScript clicks{kRate, 23};
    for (int i = 0; i < 12; ++i) clicks.blow({{2000.0}, 20ms}, 250ms, Dbfs{-25.0});
    SignalScript breath{kRate, 24};
    breath.silence(500ms).air(NoiseKind::breath, 3s, Dbfs{-35.0}).silence(500ms);
    SignalScript fan{kRate, 25};
    fan.silence(500ms).air(NoiseKind::fan, 4s, Dbfs{-35.0}).silence(500ms);
    SignalScript door{kRate, 26};
    door.silence(500ms).blow({{120.0}, 600ms}, 3s, Dbfs{-15.0});
    SignalScript hiss{kRate, 27};
    hiss.silence(500ms).air(NoiseKind::sibilant, 3s, Dbfs{-30.0}).silence(500ms);
    struct Row {
        const char* name;
        SignalScript* script;
    };
    const std::array<Row, 5> rows{{{"clicks", &clicks},
                                   {"breath", &breath},
                                   {"a fan", &fan},
                                   {"a slammed door", &door},
                                   {"an s", &hiss}}};
    for (const Row& row : rows) {
        CAPTURE(row.name);
        const ScriptedTake take = row.script->with_noise(NoiseKind::pink, Dbfs{-70.0}).build();
        CHECK(listen(take, hold_task()).holds.empty());
        CHECK(listen(take, ListeningTask{}).holds.empty());
        CHECK(listen(take, ListeningTask{}).glides.empty());
    }
}

TEST_CASE("what is sought decides whether a rise is a glide or a hold")
{
    const ScriptedTake take = in_quiet_room({.f0 = glide({180.0}, {520.0}, 3s)}, 3s);
    ListeningTask up;
    up.sought = Sought::glide_up;
    CHECK(listen(take, up).glides.size() == 1);
    CHECK(listen(take, up).holds.empty());
    CHECK(listen(take, ListeningTask{}).glides.size() == 1);
    CHECK(listen(take, hold_task()).glides.empty());
}

TEST_CASE("digital silence and samples that are no numbers are heard as nothing")
{
    for (const float value : {0.0f, std::nanf(""), INFINITY}) {
        Listener listener{AnalysisConfig{}, hold_task()};
        const std::vector<float> x(48'000, value);
        listener.push(x, [](const FrameReading& r) {
            REQUIRE(r.phonation == Phonation::silence);
            REQUIRE(std::isfinite(r.level.value));
        });
        listener.finish();
        CHECK(listener.take_finished().holds.empty());
    }
}

TEST_CASE("with anything sought a z is listed as one, beside the voice that it also is")
{
    ScriptedTake take = in_quiet_room({.f0 = steady({180.0}), .level = Dbfs{-32.0}}, 3s);
    const ScriptedTake hiss = SignalScript{kRate, 22}
                                  .silence(600ms)
                                  .air(NoiseKind::sibilant, 3s, Dbfs{-30.0})
                                  .silence(1s)
                                  .build();
    REQUIRE(take.samples.size() == hiss.samples.size());
    for (std::size_t i = 0; i < take.samples.size(); ++i) take.samples[i] += hiss.samples[i];
    const Heard any = listen(take, ListeningTask{});
    REQUIRE(any.z_holds.size() == 1);
    CHECK(any.s_holds.empty());
    CHECK(any.holds.size() == 1);
    // Both edges are in the script; 60 ms is the allowance of the duration of an /s/.
    CHECK(std::abs(duration_of(any.z_holds[0].offset - any.z_holds[0].onset, kRate).count() - 3.0) <
          0.06);
    const Heard only_z = listen(take, {.sought = Sought::z_hold});
    CHECK(only_z.z_holds.size() == 1);
    CHECK(only_z.holds.empty());
    CHECK(listen(in_quiet_room({}, 3s), ListeningTask{}).z_holds.empty());
}

TEST_CASE("a hold says what speaks against judging it")
{
    const auto doubt_of = [](const ScriptedTake& take) {
        const Heard heard = listen(take, hold_task());
        REQUIRE(heard.holds.size() == 1);
        return heard.holds[0].doubt;
    };
    const Voice natural{.f0 = drift(kF4Hz, {8.0}, 5), .jitter_percent = 0.4, .level = Dbfs{-26.0}};
    const auto in_noise = [&](double level) {
        return SignalScript{kRate, 31}
            .silence(2s)
            .voice(natural, 3s)
            .silence(1s)
            .with_noise(NoiseKind::pink, Dbfs{level})
            .build();
    };
    CHECK_FALSE(doubt_of(in_noise(-60.0)));
    CHECK(doubt_of(in_noise(-32.0)) == Doubt::noisy_room);  // 6 dB
    const ScriptedTake clipped = SignalScript{kRate, 32}
                                     .silence(1s)
                                     .voice(natural, 3s)
                                     .silence(1s)
                                     .with_noise(NoiseKind::pink, Dbfs{-70.0})
                                     .overdriven(Decibels{30.0})
                                     .build();
    CHECK(doubt_of(clipped) == Doubt::overloaded);
    const ScriptedTake exact =
        in_quiet_room({.f0 = steady(kF4Hz), .source = Source::harmonics}, 3s);
    CHECK(doubt_of(exact) == Doubt::machine);
    CHECK(listen(exact, hold_task()).holds[0].like_a_machine);
    CHECK_FALSE(may_be_a_best(listen(exact, hold_task()).holds[0]));
    CHECK_FALSE(listen(in_noise(-60.0), hold_task()).holds[0].like_a_machine);
    CHECK(may_be_a_best(listen(in_noise(-60.0), hold_task()).holds[0]));
}

TEST_CASE("machines that keep one tone are told from the steadiest voices")
{
    // Dial and ringing tones of ITU-T E.180 supplement 2, an alarm, a microwave's beep; 80 ms of
    // ramps would be kind, these have 5.
    struct Row {
        const char* name;
        std::vector<double> hz;
        double seconds;
    };
    const std::array<Row, 6> rows{{{"dial tone, 425 Hz", {425.0}, 4.0},
                                   {"ringing tone, one of its seconds", {425.0}, 1.05},
                                   {"dial tone, 350 and 440 Hz", {350.0, 440.0}, 4.0},
                                   {"dial tone, 440 and 480 Hz", {440.0, 480.0}, 3.0},
                                   {"alarm, 800 Hz and its 3rd", {800.0, 2400.0}, 2.0},
                                   {"beep, 2 kHz", {2000.0}, 1.2}}};
    for (const Row& row : rows) {
        CAPTURE(row.name);
        ScriptedTake take = SignalScript{kRate, 61}
                                .silence(Seconds{1.5 + row.seconds})
                                .with_noise(NoiseKind::pink, Dbfs{-60.0})
                                .build();
        for (std::size_t i = 0; i < static_cast<std::size_t>(row.seconds * kRate.hz); ++i) {
            const double t = static_cast<double>(i) / kRate.hz;
            const double ramp = std::min({1.0, t / 0.005, (row.seconds - t) / 0.005});
            double sum = 0.0;
            for (const double hz : row.hz) sum += std::sin(2.0 * 3.14159265358979 * hz * t);
            take.samples[i + 36'000] += static_cast<float>(0.05 * ramp * sum);
        }
        for (const Hold& hold : listen(take, hold_task()).holds) CHECK(hold.doubt);
    }
    int timed = 0, machines = 0;
    for (std::uint64_t i = 0; i < 60; ++i) {
        Random random{9'000 + i};
        Voice voice{.f0 = steady({random.uniform(90.0, 900.0)}),
                    .jitter_percent = 0.1,
                    .shimmer_percent = random.uniform(0.5, 1.5),
                    .hnr = Decibels{random.uniform(25.0, 32.0)},
                    .level = Dbfs{-26.0}};
        if (i % 3 != 0) voice.f0 = drift(voice.f0(0s), {random.uniform(1.0, 4.0)}, random.next());
        for (const Hold& hold : listen(in_quiet_room(voice, 3s), hold_task()).holds) {
            ++timed;
            machines += hold.like_a_machine ? 1 : 0;
        }
    }
    CHECK(timed >= 55);
    CHECK(machines == 0);
}
