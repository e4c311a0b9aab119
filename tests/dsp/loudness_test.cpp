#include "dsp/loudness.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace holdwell;

namespace {

constexpr Seconds kHop{10ms};

int hops_until_said(LoudnessGuard& guard, Dbfs level)
{
    for (int i = 1; i <= 1000; ++i)
        if (guard.push(level, LoudnessGuard::Voice::sounding)) return i;
    return 0;
}

}  // namespace

TEST_CASE("a step in distance changes the level by 20 log10 of the ratio")
{
    struct Row {
        double metres;
        double db;
    };
    // Inverse-square law, from 30 cm, to a tenth of a decibel by hand.
    const Row rows[] = {{0.05, 15.6}, {0.10, 9.5},  {0.15, 6.0},
                        {0.20, 3.5},  {0.50, -4.4}, {1.0, -10.5}};
    for (const Row& row : rows) {
        CAPTURE(row.metres);
        CHECK(std::abs(distance_gain(Metres{0.3}, Metres{row.metres}).value - row.db) <= 0.06);
    }
}

TEST_CASE("a reading on a meter turns dBFS into dB SPL at its distance and at others")
{
    const auto calibration = SplCalibration::from(
        {.meter = {68.0}, .weighting = Weighting::c, .distance = {0.3}, .level = {-26.0}});
    REQUIRE(calibration);
    // Definition: as many decibels above the reading as the level is above its level.
    CHECK(calibration->level_of(Dbfs{-26.0}).value == doctest::Approx(68.0));
    CHECK(calibration->level_of(Dbfs{-36.0}).value == doctest::Approx(58.0));
    // 20 log10(0.3 / 1.0) = -10.46
    CHECK(calibration->level_at(Dbfs{-26.0}, Metres{1.0}).value ==
          doctest::Approx(57.54).epsilon(0.0002));
    CHECK(calibration->weighting() == Weighting::c);
    CHECK(calibration->distance() == Metres{0.3});
}

TEST_CASE("a reading that cannot be used is refused")
{
    const ReferenceReading good{
        .meter = {68.0}, .weighting = Weighting::z, .distance = {0.3}, .level = {-26.0}};
    CHECK(SplCalibration::from(good));
    ReferenceReading weighted = good, silent = good, far = good, absurd = good;
    weighted.weighting = Weighting::a;
    silent.level = kDigitalSilence;
    far.distance = Metres{10.0};
    absurd.meter = DbSpl{200.0};
    for (const ReferenceReading& bad : {weighted, silent, far, absurd})
        CHECK_FALSE(SplCalibration::from(bad));
}

TEST_CASE("softer than the comfortable voice is negative")
{
    CHECK(relative_to_comfortable(Dbfs{-36.0}, Dbfs{-30.0}) == Decibels{-6.0});
}

TEST_CASE("much louder than asked is said after a second of it, and not again for a swing of 3 dB")
{
    LoudnessGuard guard{Dbfs{-40.0}, kHop};
    CHECK(hops_until_said(guard, Dbfs{-33.0}) == 0);  // 7 dB louder: not much
    const int said_after = hops_until_said(guard, Dbfs{-30.0});
    CHECK(said_after >= 100);
    CHECK(said_after <= 150);
    // Between the two thresholds it stays as it is.
    for (int i = 0; i < 300; ++i) CHECK(guard.push(Dbfs{-34.0}, LoudnessGuard::Voice::sounding));
    for (int i = 0; i < 300; ++i) guard.push(Dbfs{-38.0}, LoudnessGuard::Voice::sounding);
    CHECK_FALSE(guard.is_much_louder());
}

TEST_CASE("a shout of half a second is not yet much louder, and silence does not count")
{
    LoudnessGuard guard{Dbfs{-40.0}, kHop};
    for (int i = 0; i < 50; ++i)
        CHECK_FALSE(guard.push(Dbfs{-20.0}, LoudnessGuard::Voice::sounding));
    for (int i = 0; i < 500; ++i)
        CHECK_FALSE(guard.push(Dbfs{-20.0}, LoudnessGuard::Voice::silent));
    guard.reset();
    CHECK(hops_until_said(guard, Dbfs{-39.0}) == 0);
}
