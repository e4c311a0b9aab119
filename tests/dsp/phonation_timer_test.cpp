// Readings are written by hand, hop by hop: the rules without the signal chain.

#include "dsp/phonation_timer.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace holdwell;

namespace {

constexpr SampleRate kRate{48'000.0};

class Hops {
public:
    explicit Hops(Seconds bridge) : Hops{PhonationRule{.bridge = bridge}} {}
    explicit Hops(const PhonationRule& rule) : timer{AnalysisConfig{}, rule} {}

    void push(Phonation phonation, Dbfs level, int hops)
    {
        for (int i = 0; i < hops; ++i) {
            FrameReading r;
            r.hop_begin = r.centre = next_;
            r.phonation = phonation;
            if (phonation == Phonation::voiced) r.f0 = Hertz{220.0};
            r.level = r.hop_level = level;
            r.noise_floor = Dbfs{-80.0};
            r.quarter_power.fill(static_cast<float>(mean_square_of(level)));
            timer.push(r);
            next_ = next_ + SampleCount{480};
        }
    }
    void quiet(int hops) { push(Phonation::silence, {-80.0}, hops); }
    void air(int hops) { push(Phonation::breath, {-55.0}, hops); }
    void voice(int hops) { push(Phonation::voiced, {-30.0}, hops); }

    PhonationTimer timer;

private:
    SampleIndex next_{};
};

double length_of(const Phonated& p) { return duration_of(p.offset - p.onset, kRate).count(); }

}  // namespace

TEST_CASE("a voice shows itself after 100 ms, and is dated back to its beginning")
{
    Hops hops{300ms};
    hops.quiet(50);
    hops.voice(9);
    CHECK_FALSE(hops.timer.under_way());
    hops.voice(1);
    REQUIRE(hops.timer.under_way());
    CHECK(std::abs(time_of(hops.timer.under_way()->onset, kRate).count() - 0.5) < 0.02);
    hops.voice(190);
    hops.quiet(60);
    const auto ended = hops.timer.take_finished();
    REQUIRE(ended.size() == 1);
    CHECK(ended[0].ended_by == HoldEnd::voice_stopped);
    CHECK(std::abs(length_of(ended[0]) - 2.0) < 0.03);
}

TEST_CASE("a gap within the bridge is one interruption and a longer one an end")
{
    Hops within{300ms};
    within.quiet(50);
    within.voice(100);
    within.quiet(25);
    within.voice(100);
    within.quiet(60);
    const auto one = within.timer.take_finished();
    REQUIRE(one.size() == 1);
    CHECK(one[0].interruptions.size() == 1);
    Hops beyond{300ms};
    beyond.quiet(50);
    beyond.voice(100);
    beyond.quiet(40);
    beyond.voice(100);
    beyond.quiet(60);
    CHECK(beyond.timer.take_finished().size() == 2);
}

TEST_CASE("a breath taken within the bridge ends it, air for a moment does not")
{
    const auto heard = [](Hops hops, int air) {
        hops.quiet(50);
        hops.voice(100);
        hops.air(air);
        hops.voice(100);
        hops.quiet(60);
        return hops.timer.take_finished();
    };
    CHECK(heard(Hops{300ms}, 14).size() == 1);
    const auto two = heard(Hops{300ms}, 16);
    REQUIRE(two.size() == 2);
    for (const Phonated& p : two) {
        CHECK(p.ended_by == HoldEnd::voice_stopped);
        CHECK(std::abs(length_of(p) - 1.0) < 0.03);
    }
    CHECK(heard(Hops{PhonationRule{.bridge = 300ms, .ends_with_breath = false}}, 25).size() == 1);
}

TEST_CASE("the echo of a note in a gap is no breath")
{
    constexpr int kGap = 25;
    for (const double ring_s : {0.3, 0.6, 1.2}) {  // until it is 60 dB down
        CAPTURE(ring_s);
        Hops hops{300ms};
        hops.quiet(50);
        hops.voice(100);
        for (int i = 0; i < kGap; ++i) {
            hops.push(Phonation::breath, Dbfs{-40.0 - 60.0 * 0.01 * i / ring_s}, 1);
        }
        hops.voice(100);
        hops.quiet(60);
        CHECK(hops.timer.take_finished().size() == 1);
    }
}

TEST_CASE("fry of more than half a second ends a phonation and less does not")
{
    for (const int fry : {20, 80}) {
        CAPTURE(fry);
        Hops hops{300ms};
        hops.quiet(50);
        hops.voice(100);
        hops.push(Phonation::fry, {-35.0}, fry);
        CHECK(hops.timer.take_finished().size() == (fry > 50 ? 1U : 0U));
    }
}

TEST_CASE("a level 17 dB below its median for half a second ends a phonation, 14 dB does not")
{
    for (const double below : {14.0, 17.0}) {
        CAPTURE(below);
        Hops hops{300ms};
        hops.quiet(50);
        hops.voice(300);
        hops.push(Phonation::voiced, {-30.0 - below}, 60);
        const auto ended = hops.timer.take_finished();
        REQUIRE(ended.size() == (below > 15.0 ? 1U : 0U));
        if (!ended.empty()) {
            CHECK(ended[0].ended_by == HoldEnd::faded);
            CHECK(std::abs(length_of(ended[0]) - 3.0) < 0.05);  // back to the last good frame
        }
    }
}
