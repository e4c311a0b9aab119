#include "dsp/units.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace holdwell;

TEST_CASE("intervals are logarithms of frequency ratios")
{
    // 1200 log2(ratio): an octave 1200, a pure fifth 701.955 cents.
    CHECK(interval_between({220.0}, {440.0}).value == doctest::Approx(1200.0));
    CHECK(interval_between({200.0}, {300.0}).value == doctest::Approx(701.9550008654));
    CHECK(interval_between({440.0}, {220.0}).value == doctest::Approx(-1200.0));
    CHECK(semitones_between({220.0}, {440.0}).value == doctest::Approx(12.0));
    CHECK(transposed({440.0}, {100.0}).value == doctest::Approx(440.0 * 1.0594630943593));
    CHECK(transposed({440.0}, {-1200.0}).value == doctest::Approx(220.0));
}

TEST_CASE("levels are ten times the logarithm of the mean square, down to digital silence")
{
    CHECK(level_of(1.0).value == doctest::Approx(0.0));
    CHECK(level_of(0.5).value == doctest::Approx(-3.0103));  // a full-scale sine
    CHECK(level_of(1e-6).value == doctest::Approx(-60.0));
    CHECK(level_of(0.0) == kDigitalSilence);
    CHECK(level_of(1e-20) == kDigitalSilence);
    CHECK(mean_square_of({-20.0}) == doctest::Approx(0.01));
    CHECK(gain_of({20.0}) == doctest::Approx(10.0));
    CHECK(gain_of({6.0205999}) == doctest::Approx(2.0));
}

TEST_CASE("samples and seconds are exchanged at the sample rate, to the nearest sample")
{
    CHECK(samples_in(10ms, {44'100.0}) == SampleCount{441});
    CHECK(samples_in(Seconds{0.0001}, {44'100.0}) == SampleCount{4});  // 4.41
    CHECK(samples_in(Seconds{-0.5}, {48'000.0}) == SampleCount{-24'000});
    CHECK(duration_of({24'000}, {48'000.0}).count() == doctest::Approx(0.5));
    CHECK(time_of({72'000}, {48'000.0}).count() == doctest::Approx(1.5));
    CHECK(SampleIndex{700} - SampleIndex{1000} == SampleCount{-300});
}
