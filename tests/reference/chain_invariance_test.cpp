// What must not change when the input is cut, repeated, scaled, turned over or delayed, through the
// whole of listening: samples in, readings and holds out.

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <optional>

#include "dsp/listener.h"
#include "tests/support/signal_script.h"

namespace holdwell {

namespace {

constexpr AnalysisConfig kConfig{.sample_rate = SampleRate{48'000.0}};
constexpr ListeningTask kTask{.sought = Sought::any};

struct Course {
    std::vector<FrameReading> readings;
    Heard heard;
};

Course listened(Listener& listener, std::span<const float> samples, std::size_t block)
{
    Course course;
    const auto keep = [&](const FrameReading& r) { course.readings.push_back(r); };
    for (std::size_t at = 0; at < samples.size(); at += block)
        listener.push(samples.subspan(at, std::min(block, samples.size() - at)), keep);
    listener.finish();
    course.heard = listener.take_finished();
    return course;
}

Course listened(std::span<const float> samples, std::size_t block = 480)
{
    Listener listener{kConfig, kTask};
    return listened(listener, samples, block);
}

// A breath, a natural hold with an interruption, an /s/, in a room.
const test::ScriptedTake& example()
{
    static const test::ScriptedTake take = [] {
        test::Voice v{.f0 = test::drift(Hertz{262.0}, Cents{8.0}, 5),
                      .jitter_percent = 0.5,
                      .shimmer_percent = 3.0,
                      .hnr = Decibels{20.0},
                      .level = Dbfs{-26.0}};
        v.gaps = {{Seconds{1.4}, 120ms}};
        return test::SignalScript{kConfig.sample_rate, 21}
            .silence(600ms)
            .air(test::NoiseKind::breath, 300ms, Dbfs{-48.0})
            .silence(200ms)
            .voice(v, Seconds{2.5})
            .silence(700ms)
            .air(test::NoiseKind::sibilant, Seconds{1.5}, Dbfs{-40.0})
            .silence(600ms)
            .with_noise(test::NoiseKind::room, Dbfs{-70.0})
            .build();
    }();
    return take;
}

bool same_bits(double a, double b) { return a == b || (std::isnan(a) && std::isnan(b)); }

bool identical(const FrameReading& a, const FrameReading& b)
{
    return a.centre == b.centre && a.hop_begin == b.hop_begin && a.phonation == b.phonation &&
           a.f0 == b.f0 && a.f0_error == b.f0_error && a.f0_slope == b.f0_slope &&
           same_bits(a.confidence, b.confidence) && a.level == b.level &&
           a.hop_level == b.hop_level && a.noise_floor == b.noise_floor &&
           a.hiss_level == b.hiss_level && a.hiss_floor == b.hiss_floor &&
           a.low_level == b.low_level && a.clipped_samples == b.clipped_samples;
}

void check_identical(const Course& a, const Course& b)
{
    REQUIRE(a.readings.size() == b.readings.size());
    std::size_t different = 0;
    for (std::size_t k = 0; k < a.readings.size(); ++k)
        if (!identical(a.readings[k], b.readings[k])) ++different;
    CHECK(different == 0);
    REQUIRE(a.heard.holds.size() == b.heard.holds.size());
    for (std::size_t k = 0; k < a.heard.holds.size(); ++k) {
        CHECK(a.heard.holds[k].onset == b.heard.holds[k].onset);
        CHECK(a.heard.holds[k].offset == b.heard.holds[k].offset);
        CHECK(a.heard.holds[k].f0_median == b.heard.holds[k].f0_median);
    }
    CHECK(a.heard.s_holds.size() == b.heard.s_holds.size());
    CHECK(a.heard.glides.size() == b.heard.glides.size());
}

std::vector<float> scaled(std::span<const float> x, float factor)
{
    std::vector<float> y(x.begin(), x.end());
    for (float& v : y) v *= factor;
    return y;
}

// f0 within 0.1 cent wherever both are voiced, and voicing alike but for single frames at edges.
void check_same_f0(const Course& a, const Course& b)
{
    REQUIRE(a.readings.size() == b.readings.size());
    double worst = 0.0;
    int both = 0;
    int apart = 0;
    for (std::size_t k = 0; k < a.readings.size(); ++k) {
        const auto& p = a.readings[k].f0;
        const auto& q = b.readings[k].f0;
        if (p && q) {
            ++both;
            worst = std::max(worst, std::abs(interval_between(*p, *q).value));
        } else if (p.has_value() != q.has_value()) {
            ++apart;
        }
    }
    REQUIRE(both > 200);
    CHECK(worst <= 0.1);
    CHECK(apart <= 2);
}

}  // namespace

TEST_CASE("the example holds one hold with one interruption, and one /s/")
{
    const Course c = listened(example().samples);
    REQUIRE(c.heard.holds.size() == 1);
    CHECK(c.heard.holds[0].interruptions.size() == 1);
    CHECK(c.heard.s_holds.size() == 1);
}

TEST_CASE("blocks of any size give the same answer bit for bit")
{
    const Course whole = listened(example().samples, example().samples.size());
    for (const int block : {1, 7, 64, 480, 4096}) {
        CAPTURE(block);
        check_identical(whole, listened(example().samples, static_cast<std::size_t>(block)));
    }
}

TEST_CASE("a second listener gives the same answer bit for bit")
{
    check_identical(listened(example().samples), listened(example().samples));
}

TEST_CASE("6 and 20 dB less give the same f0, and levels lower by as much")
{
    const Course loud = listened(example().samples);
    for (const double step_db : {-6.0, -20.0}) {
        CAPTURE(step_db);
        const auto factor = static_cast<float>(gain_of(Decibels{step_db}));
        const Course soft = listened(scaled(example().samples, factor));
        check_same_f0(loud, soft);
        REQUIRE(soft.heard.holds.size() == 1);
        const Decibels drop = soft.heard.holds[0].level - loud.heard.holds[0].level;
        CHECK(drop.value == doctest::Approx(step_db).epsilon(0.01));
        CHECK(soft.heard.holds[0].start.named == loud.heard.holds[0].start.named);
    }
}

TEST_CASE("the sign of the samples does not matter")
{
    check_same_f0(listened(example().samples), listened(scaled(example().samples, -1.0f)));
}

TEST_CASE("a delay by whole hops delays everything and changes nothing else")
{
    constexpr std::size_t kHops = 37;
    const auto delay = static_cast<std::int64_t>(kHops * 480);
    std::vector<float> late(kHops * 480, 0.0f);
    // Digital silence first would teach another room: the same room goes before.
    test::Random random{4};
    for (std::size_t k = 0; k < late.size(); ++k) late[k] = example().samples[k % 20'000];
    late.insert(late.end(), example().samples.begin(), example().samples.end());
    const Course early = listened(example().samples);
    const Course delayed = listened(late);
    REQUIRE(delayed.heard.holds.size() == 1);
    // A quarter of a hop: edges are set on an envelope whose floor has heard more of the room.
    const auto near = [&](SampleIndex a, SampleIndex b) {
        return std::abs(a.value - delay - b.value) <= 240;
    };
    CHECK(near(delayed.heard.holds[0].onset, early.heard.holds[0].onset));
    CHECK(near(delayed.heard.holds[0].offset, early.heard.holds[0].offset));
    CHECK(std::abs(
              interval_between(*delayed.heard.holds[0].f0_median, *early.heard.holds[0].f0_median)
                  .value) <= 0.1);
}

TEST_CASE("the same samples played an octave higher are read an octave higher within 2 cents")
{
    const test::ScriptedTake take =
        test::SignalScript{kConfig.sample_rate, 9}
            .silence(500ms)
            .voice({.f0 = test::steady(Hertz{196.0}), .jitter_percent = 0.3}, Seconds{3.0})
            .silence(500ms)
            .with_noise(test::NoiseKind::room, Dbfs{-75.0})
            .build();
    std::vector<float> every_second;
    for (std::size_t k = 0; k < take.samples.size(); k += 2)
        every_second.push_back(take.samples[k]);
    const Course low = listened(take.samples);
    const Course high = listened(every_second);
    REQUIRE(low.heard.holds.size() == 1);
    REQUIRE(high.heard.holds.size() == 1);
    const Cents between =
        interval_between(*low.heard.holds[0].f0_median, *high.heard.holds[0].f0_median);
    CHECK(std::abs(between.value - 1200.0) <= 2.0);
}

TEST_CASE("digital silence is silence")
{
    const std::vector<float> zeros(48'000 * 3, 0.0f);
    const Course c = listened(zeros);
    REQUIRE(c.readings.size() == 300);
    for (const FrameReading& r : c.readings) {
        CHECK(r.phonation == Phonation::silence);
        CHECK(!r.f0);
        CHECK(std::isfinite(r.level.value));
        CHECK(std::isfinite(r.hop_level.value));
    }
    CHECK(c.heard.holds.empty());
}

TEST_CASE("numbers that are none neither spread nor last")
{
    std::vector<float> x = example().samples;
    const auto hurt = static_cast<std::size_t>(samples_in(2s, kConfig.sample_rate).value);
    x[hurt] = std::numeric_limits<float>::quiet_NaN();
    x[hurt + 1] = std::numeric_limits<float>::infinity();
    x[hurt + 2] = -std::numeric_limits<float>::infinity();
    const Course c = listened(x);
    for (const FrameReading& r : c.readings) {
        REQUIRE(std::isfinite(r.level.value));
        REQUIRE(std::isfinite(r.hop_level.value));
        REQUIRE(std::isfinite(r.confidence));
        REQUIRE(std::isfinite(r.noise_floor.value));
        if (r.f0) REQUIRE(std::isfinite(r.f0->value));
    }
    REQUIRE(c.heard.holds.size() == 1);
    const Course whole = listened(example().samples);
    CHECK(std::abs(c.heard.holds[0].offset.value - whole.heard.holds[0].offset.value) <= 480);
}

TEST_CASE("a full-scale square wave of 200 Hz is voiced at 200 Hz, at 0 dBFS")
{
    std::vector<float> x;
    for (int k = 0; k < 48'000; ++k) x.push_back(k % 240 < 120 ? 1.0f : -1.0f);
    const Course c = listened(x);
    int voiced = 0;
    for (std::size_t k = 10; k < c.readings.size(); ++k) {
        if (!c.readings[k].f0) continue;
        ++voiced;
        CHECK(std::abs(interval_between(Hertz{200.0}, *c.readings[k].f0).value) <= 0.5);
    }
    CHECK(voiced >= 85);
    // The voice band takes the harmonics above 8 kHz off: 0.05 of the power, -0.2 dB.
    CHECK(c.readings[50].level.value == doctest::Approx(-0.2).epsilon(0.01).scale(40.0));
}

}  // namespace holdwell
