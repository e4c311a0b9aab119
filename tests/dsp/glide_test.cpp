#include "dsp/glide.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>

// Contours drawn by hand: what is true of them is known exactly.

using namespace holdwell;

namespace {

constexpr SampleRate kRate{48'000.0};
constexpr std::int64_t kHop = 480;

// Semitones above 100 Hz at a time in seconds; nothing where there is no voice.
using Course = std::function<std::optional<double>(double)>;

std::vector<ContourPoint> drawn(double length_s, const Course& course)
{
    std::vector<ContourPoint> contour;
    for (std::int64_t k = 0; static_cast<double>(k) * 0.01 <= length_s; ++k) {
        const auto st = course(static_cast<double>(k) * 0.01);
        ContourPoint p;
        p.at = {k * kHop};
        p.hop_begin = {k * kHop};
        p.level = st ? Dbfs{-25.0} : Dbfs{-70.0};
        p.phonation = st ? Phonation::voiced : Phonation::silence;
        p.confidence = st ? 0.98 : 0.0;
        if (st) p.f0 = transposed(Hertz{100.0}, Cents{100.0 * *st});
        contour.push_back(p);
    }
    return contour;
}

double range_st(const Glide& glide)
{
    REQUIRE(glide.lowest);
    REQUIRE(glide.highest);
    return semitones_between(*glide.lowest, *glide.highest).value;
}

double seconds(SampleIndex at) { return time_of(at, kRate).count(); }

Course even(double st_per_s)
{
    return [=](double t) { return st_per_s * t; };
}

}  // namespace

TEST_CASE("an even glide: direction, range and smoothness")
{
    for (const double speed : {2.0, -2.0, 6.0, -6.0, 20.0, -20.0, 36.0}) {
        CAPTURE(speed);
        const double length_s = std::min(4.0, 30.0 / std::abs(speed));
        const auto contour =
            drawn(length_s, [=](double t) { return (speed > 0.0 ? 0.0 : 30.0) + speed * t; });
        CHECK(travels(contour, kRate));
        const Glide glide = measure_glide(contour, kRate);
        CHECK(glide.direction == (speed > 0.0 ? GlideDirection::up : GlideDirection::down));
        // The voice sounds half a window (19 ms) and a little beyond the first and last point.
        CHECK(range_st(glide) >= std::abs(speed) * length_s - 0.1);
        CHECK(range_st(glide) <= std::abs(speed) * (length_s + 0.06) + 0.1);
        CHECK(glide.breaks.empty());
        CHECK(glide.smoothness > 0.99);
    }
}

TEST_CASE("up and down again is one glide, up")
{
    const auto contour = drawn(4.0, [](double t) { return 20.0 - 10.0 * std::abs(t - 2.0); });
    CHECK(travels(contour, kRate));
    const Glide glide = measure_glide(contour, kRate);
    CHECK(glide.direction == GlideDirection::up);
    CHECK(range_st(glide) == doctest::Approx(20.0).epsilon(0.02));
    CHECK(glide.breaks.empty());
}

TEST_CASE("what stays on its notes does not travel")
{
    SUBCASE("a steady note")
    {
        CHECK_FALSE(travels(drawn(3.0, [](double) { return 5.0; }), kRate));
    }
    SUBCASE("a vibrato of a semitone to each side")
    {
        CHECK_FALSE(travels(drawn(3.0, [](double t) { return std::sin(34.6 * t); }), kRate));
    }
    SUBCASE("a scoop into the note and a fall out of it")
    {
        CHECK_FALSE(travels(drawn(3.0,
                                  [](double t) {
                                      return -5.0 * std::max(0.0, 1.0 - t / 0.2) -
                                             7.0 * std::max(0.0, (t - 2.8) / 0.2);
                                  }),
                            kRate));
    }
    SUBCASE("five notes, legato")
    {
        // 2-2-1-2 semitones with 60 ms between the notes: the ladder of the routine.
        const auto ladder = [](double t) {
            constexpr std::array<double, 6> kSteps{0.0, 2.0, 4.0, 5.0, 7.0, 7.0};
            const auto note = std::min<std::size_t>(4, static_cast<std::size_t>(t));
            const double into = std::max(0.0, t - static_cast<double>(note) - 0.94) / 0.06;
            return kSteps[note] + std::min(1.0, into) * (kSteps[note + 1] - kSteps[note]);
        };
        CHECK_FALSE(travels(drawn(5.0, ladder), kRate));
    }
    SUBCASE("a leap of a fifth and back")
    {
        CHECK_FALSE(
            travels(drawn(3.0, [](double t) { return t > 1.0 && t < 2.0 ? 7.0 : 0.0; }), kRate));
    }
    SUBCASE("nothing at all")
    {
        CHECK_FALSE(travels({}, kRate));
        CHECK_FALSE(travels(drawn(1.0, [](double) { return std::nullopt; }), kRate));
    }
}

TEST_CASE("a jump is a break, with its place and size")
{
    for (const double size : {3.0, -3.5, 5.0, -7.0, 12.0}) {
        CAPTURE(size);
        const auto contour =
            drawn(4.0, [=](double t) { return 5.0 * t + (t >= 2.0 ? size : 0.0); });
        const Glide glide = measure_glide(contour, kRate);
        REQUIRE(glide.breaks.size() == 1);
        CHECK(glide.breaks[0].kind == BreakKind::jump);
        REQUIRE(glide.breaks[0].size);
        CHECK(glide.breaks[0].size->value == doctest::Approx(size).epsilon(0.05));
        CHECK(std::abs(seconds(glide.breaks[0].at) - 2.0) <= 0.02);
        CHECK(travels(contour, kRate));
    }
}

TEST_CASE("movement that is smooth is no break, however fast")
{
    const auto check = [](double length_s, const Course& course) {
        CHECK(measure_glide(drawn(length_s, course), kRate).breaks.empty());
    };
    check(1.0, even(36.0));                                             // three octaves in a second
    check(4.0, [](double t) { return 5.0 * t + std::sin(34.6 * t); });  // a wide vibrato
    check(1.2, [](double t) { return 12.0 - 12.0 * std::cos(std::numbers::pi * t / 1.2); });
    check(2.0, [](double t) { return 20.0 * (1.0 - std::abs(t - 1.0)); });  // a sharp turn
}

TEST_CASE("a gap of 40 to 400 ms is a break, with its place and length")
{
    for (const double gap_s : {0.05, 0.1, 0.2, 0.35, 0.4}) {
        CAPTURE(gap_s);
        const auto contour = drawn(4.0, [=](double t) -> std::optional<double> {
            if (t >= 1.5 && t < 1.5 + gap_s) return std::nullopt;
            return 5.0 * t;
        });
        const Glide glide = measure_glide(contour, kRate);
        REQUIRE(glide.breaks.size() == 1);
        CHECK(glide.breaks[0].kind == BreakKind::gap);
        REQUIRE(glide.breaks[0].gap);
        CHECK(std::abs(glide.breaks[0].gap->count() - gap_s) <= 0.015);
        CHECK(std::abs(seconds(glide.breaks[0].at) - 1.5) <= 0.015);
        CHECK(range_st(glide) == doctest::Approx(20.0).epsilon(0.03));
    }
}

TEST_CASE("an estimator that slips by a harmonic ratio for a while breaks nothing")
{
    // f0/2, f0/3, 2 f0, 3 f0
    for (const double slip : {-12.0, -19.02, 12.0, 19.02}) {
        for (const double length_s : {0.03, 0.1, 0.25}) {
            CAPTURE(slip);
            CAPTURE(length_s);
            const auto contour = drawn(4.0, [=](double t) {
                return 20.0 + 5.0 * t + (t >= 2.0 && t < 2.0 + length_s ? slip : 0.0);
            });
            const Glide glide = measure_glide(contour, kRate);
            CHECK(glide.breaks.empty());
            CHECK(range_st(glide) == doctest::Approx(20.0).epsilon(0.03));
        }
    }
}

TEST_CASE("a squeak is a break and does not set the range")
{
    const auto contour =
        drawn(4.0, [](double t) { return 5.0 * t + (t > 3.8 && t < 3.87 ? 8.0 : 0.0); });
    const Glide glide = measure_glide(contour, kRate);
    CHECK(glide.breaks.size() == 1);
    CHECK(range_st(glide) == doctest::Approx(20.0).epsilon(0.03));
}

TEST_CASE("fry is timed, and is no gap")
{
    auto contour = drawn(3.0, [](double t) { return 20.0 - 5.0 * t; });
    for (ContourPoint& p : contour) {
        const double t = seconds(p.at);
        if (t < 2.0 || t >= 2.3) continue;
        p.f0.reset();
        p.phonation = Phonation::fry;
        p.level = Dbfs{-30.0};
    }
    const Glide glide = measure_glide(contour, kRate);
    CHECK(glide.breaks.empty());
    CHECK(glide.fry.count() == doctest::Approx(0.3).epsilon(0.04));
}
