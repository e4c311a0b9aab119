// What a system does to a microphone's sound, simulated here by the textbook form of each processor
// (a feed-forward gain control, a gate, a learnt subtraction), on scripted voices in scripted
// rooms; and the same scenes untouched, which must not be suspected.

#include "dsp/processing.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <vector>

#include "dsp/frame_analyzer.h"
#include "dsp/listener.h"
#include "tests/support/allocation_guard.h"
#include "tests/support/signal_script.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr SampleRate kRate{48'000.0};

// Follows the level with a fast attack and a slow release, both in seconds.
class Follower {
public:
    Follower(double attack, double release)
        : up_{std::exp(-1.0 / (attack * kRate.hz))}, down_{std::exp(-1.0 / (release * kRate.hz))}
    {
    }
    double step(double x)
    {
        const double a = std::abs(x);
        const double keep = a > level_ ? up_ : down_;
        level_ = keep * level_ + (1.0 - keep) * a;
        return level_;
    }

private:
    double up_, down_;
    double level_{0.0};
};

// Brings every level towards one target, by at most 24 dB unless said.
void control_gain(std::vector<float>& x, double most = 16.0)
{
    Follower follower{0.01, 0.7};
    for (float& v : x) {
        const double level = std::max(follower.step(v), 1e-4);
        v = static_cast<float>(v * std::clamp(0.03 / level, 0.1, most));
    }
}

// Open while it is loud and 250 ms longer; else `closed` lets through.
void gate(std::vector<float>& x, double closed)
{
    Follower follower{0.002, 0.02};
    double gain = closed;
    int open_for = 0;
    for (float& v : x) {
        open_for = follower.step(v) > 0.006 ? static_cast<int>(0.25 * kRate.hz) : open_for - 1;
        const double wanted = open_for > 0 ? 1.0 : closed;
        gain += (wanted - gain) * (wanted > gain ? 0.01 : 0.001);
        v = static_cast<float>(gain * v);
    }
}

// Learns the noise for 0.8 s, then takes it away, over half a second.
void learn_and_remove(std::vector<float>& x)
{
    Follower follower{0.02, 0.2};
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double t = static_cast<double>(i) / kRate.hz;
        const double share = std::clamp((t - 0.8) / 0.5, 0.0, 1.0);
        const double closed = std::pow(10.0, -18.0 * share / 20.0);
        const double open = std::clamp((follower.step(x[i]) - 0.003) / 0.01, 0.0, 1.0);
        x[i] = static_cast<float>(x[i] * (closed + (1.0 - closed) * open));
    }
}

struct Scene {
    NoiseKind room{NoiseKind::pink};
    Dbfs level{-58.0};
    Seconds pause{3.0};
    enum class Breath { none, out_and_in } breath{Breath::none};
    std::uint64_t seed{1};
};

std::vector<float> voices_in(const Scene& scene)
{
    SignalScript script{kRate, scene.seed};
    script.silence(2500ms);
    for (int i = 0; i < 3; ++i) {
        if (scene.breath == Scene::Breath::out_and_in) {
            script.air(NoiseKind::breath, 700ms, Dbfs{-48.0}).silence(150ms);
        }
        const Hertz f0{200.0 + 30.0 * i};
        script.voice({.f0 = drift(f0, {8.0}, scene.seed), .jitter_percent = 0.4, .level = {-26.0}},
                     2s);
        if (scene.breath == Scene::Breath::out_and_in) {
            script.silence(60ms).air(NoiseKind::breath, 300ms, Dbfs{-46.0 - 4.0 * i});
        }
        script.silence(scene.pause);
    }
    return script.with_noise(scene.room, scene.level).build().samples;
}

std::optional<MicrophoneProcessing> heard_in(const std::vector<float>& samples)
{
    Listener listener{{}, {}};
    listener.push(samples);
    return listener.processing();
}

constexpr std::array kRooms{NoiseKind::white, NoiseKind::pink, NoiseKind::room, NoiseKind::fan};

}  // namespace

TEST_CASE("automatic gain is heard by the room, which dips after a voice and climbs back")
{
    int heard = 0, all = 0;
    for (const NoiseKind room : kRooms) {
        for (std::uint64_t seed = 1; seed <= 2; ++seed, ++all) {
            std::vector<float> samples = voices_in({.room = room, .seed = seed});
            control_gain(samples);
            const auto found = heard_in(samples);
            if (found == MicrophoneProcessing::gain_control) ++heard;
        }
    }
    CAPTURE(heard);
    CHECK(all == 8);
    CHECK(heard >= 7);
}

namespace {

// As control_gain, with slow time constants; both in seconds.
void control_gain_slowly(std::vector<float>& x, double attack, double release)
{
    Follower follower{attack, release};
    for (float& v : x) {
        const double level = std::max(follower.step(v), 1e-4);
        v = static_cast<float>(v * std::clamp(0.03 / level, 0.1, 16.0));
    }
}

// Three holds of six seconds with rests of fifteen.
std::vector<float> holds_and_rests(NoiseKind room, std::function<Decibels(Seconds)> loudness,
                                   std::uint64_t seed)
{
    SignalScript script{kRate, seed};
    script.silence(4s);
    for (int i = 0; i < 3; ++i) {
        script
            .voice({.f0 = drift({200.0 + 30.0 * i}, {8.0}, seed),
                    .jitter_percent = 0.4,
                    .level = {-24.0},
                    .loudness = loudness},
                   6s)
            .silence(15s);
    }
    return script.with_noise(room, Dbfs{-62.0}).build().samples;
}

}  // namespace

TEST_CASE("a gain that takes seconds is heard after the second hold")
{
    struct Row {
        double attack, release;
    };
    constexpr std::array<Row, 5> rows{{{0.1, 1.0}, {0.5, 2.0}, {1.0, 3.0}, {1.0, 5.0}, {3.0, 5.0}}};
    for (const Row& row : rows) {
        int heard = 0;
        for (const NoiseKind room : {NoiseKind::pink, NoiseKind::fan}) {
            std::vector<float> samples = holds_and_rests(room, {}, 81);
            control_gain_slowly(samples, row.attack, row.release);
            heard += heard_in(samples) == MicrophoneProcessing::gain_control ? 1 : 0;
        }
        MESSAGE("attack ", row.attack, " s, release ", row.release, " s: ", heard, " of 2 rooms");
        CHECK(heard == 2);
    }
}

TEST_CASE("a singer who fades or swells in a room that stays as it is has no gain control")
{
    const std::array<std::function<Decibels(Seconds)>, 3> courses{
        [](Seconds t) { return Decibels{-3.0 * t.count()}; },
        [](Seconds t) { return Decibels{-12.0 + 2.0 * t.count()}; },
        [](Seconds t) { return Decibels{6.0 * std::sin(t.count())}; }};
    for (const auto& course : courses) {
        for (const NoiseKind room : kRooms)
            CHECK_FALSE(heard_in(holds_and_rests(room, course, 91)));
    }
}

TEST_CASE("a gate is heard by the same noise that it cuts off behind every voice")
{
    for (const double closed : {0.0, 0.03}) {
        int heard = 0, all = 0;
        for (const NoiseKind room : kRooms) {
            for (std::uint64_t seed = 1; seed <= 2; ++seed, ++all) {
                std::vector<float> samples = voices_in({.room = room, .seed = 10 + seed});
                gate(samples, closed);
                const auto found = heard_in(samples);
                if (found == MicrophoneProcessing::noise_suppression) ++heard;
            }
        }
        CAPTURE(closed);
        CAPTURE(heard);
        CHECK(all == 8);
        CHECK(heard >= 7);
    }
}

TEST_CASE("suppression that learns the room is heard when the room is taken away")
{
    for (const NoiseKind room : kRooms) {
        std::vector<float> samples = voices_in({.room = room, .seed = 20});
        learn_and_remove(samples);
        CHECK(heard_in(samples) == MicrophoneProcessing::noise_suppression);
    }
}

TEST_CASE("rooms that nothing was done to are not suspected")
{
    constexpr std::array kBreaths{Scene::Breath::none, Scene::Breath::out_and_in};
    constexpr std::array kAll{NoiseKind::white, NoiseKind::pink,   NoiseKind::room,
                              NoiseKind::fan,   NoiseKind::hum_50, NoiseKind::babble,
                              NoiseKind::hum_60};
    int suspected = 0;
    for (const NoiseKind room : kAll) {
        for (const Scene::Breath breath : kBreaths) {
            const bool breathes = breath == Scene::Breath::out_and_in;
            const Scene scene{room,
                              {breathes ? -70.0 : -55.0},
                              breathes ? Seconds{3.0} : Seconds{1.2},
                              breath,
                              31};
            suspected += heard_in(voices_in(scene)) ? 1 : 0;
        }
    }
    CHECK(suspected == 0);  // of 14
}

TEST_CASE("a hall's decay is no processing")
{
    for (const double rt60 : {0.4, 1.0, 2.0}) {
        CAPTURE(rt60);
        const ScriptedTake take = SignalScript{kRate, 41}
                                      .silence(1500ms)
                                      .voice({.f0 = steady({220.0})}, 2s)
                                      .silence(3s)
                                      .voice({.f0 = steady({247.0})}, 2s)
                                      .silence(3s)
                                      .in_room({Seconds{rt60}, {0.0}})
                                      .with_noise(NoiseKind::pink, Dbfs{-70.0})
                                      .build();
        CHECK_FALSE(heard_in(take.samples));
    }
}

TEST_CASE("while processing is heard beginnings are unsure, and say why")
{
    std::vector<float> samples = voices_in({.seed = 51});
    control_gain(samples);
    Listener listener{{}, {.sought = Sought::hold}};
    listener.push(samples);
    listener.finish();
    const Heard heard = listener.take_finished();
    REQUIRE(heard.holds.size() >= 2);  // the first is hidden by the room, turned up
    const Onset& last = heard.holds.back().start;
    CHECK(last.named == OnsetClass::unsure);
    CHECK(last.reason == "the computer's automatic gain changes how a voice begins");
    CHECK_FALSE(last.features);
}

TEST_CASE("processing noticed inside a hold makes its beginning unsure as well")
{
    // A pause of 1.95 s inside one hold, in which the room climbs back.
    std::vector<float> samples = SignalScript{kRate, 52}
                                     .silence(2500ms)
                                     .voice({.f0 = drift({220.0}, {8.0}, 4),
                                             .jitter_percent = 0.4,
                                             .level = {-26.0},
                                             .gaps = {{2s, 1950ms}}},
                                            6s)
                                     .silence(1s)
                                     .with_noise(NoiseKind::pink, Dbfs{-75.0})
                                     .build()
                                     .samples;
    control_gain(samples, 4.0);
    Listener listener{{}, {.sought = Sought::hold, .bridge = 2s}};
    std::optional<Onset> early;
    for (std::size_t i = 0; i + 480 <= samples.size(); i += 480) {
        listener.push(std::span{samples}.subspan(i, 480));
        const auto now = listener.under_way();
        if (now && now->start && !early) early = now->start;
    }
    listener.finish();
    const Heard heard = listener.take_finished();
    REQUIRE(heard.holds.size() == 1);
    REQUIRE(early);
    CHECK(early->features);  // measured: nothing was known yet
    const Onset& start = heard.holds[0].start;
    CHECK(start.named == OnsetClass::unsure);
    CHECK(start.reason == "the computer's automatic gain changes how a voice begins");
    CHECK_FALSE(start.features);
}

TEST_CASE("three voices without a sign clear the suspicion")
{
    std::vector<float> samples = voices_in({.seed = 61});
    control_gain(samples);
    CHECK(heard_in(samples));
    const std::vector<float> after = voices_in({.pause = 1500ms, .seed = 62});
    for (int i = 0; i < 2; ++i) samples.insert(samples.end(), after.begin(), after.end());
    CHECK_FALSE(heard_in(samples));
}

TEST_CASE("watching for processing allocates nothing")
{
    FrameAnalyzer analyzer{{}};
    const std::vector<float> samples = voices_in({.pause = 1500ms, .seed = 71});
    std::vector<FrameReading> readings;
    for (std::size_t i = 0; i + 480 <= samples.size(); i += 480)
        readings.push_back(analyzer.push(std::span{samples}.subspan(i, 480)));
    ProcessingWatch watch;
    const AllocationGuard guard;
    for (const FrameReading& reading : readings) watch.push(reading);
    CHECK(guard.allocations() == 0);
}
