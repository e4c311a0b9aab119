#include "dsp/hold_judge.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

using namespace holdwell;

namespace {

constexpr SampleRate kRate{48'000.0};
constexpr std::int64_t kHop = 480;  // 10 ms

// A contour of so many hops; `semitones_at` over 220 Hz, nothing where no voice is heard.
template <typename SemitonesAt>
std::vector<ContourPoint> contour(int hops, SemitonesAt semitones_at)
{
    std::vector<ContourPoint> points;
    for (int i = 0; i < hops; ++i) {
        ContourPoint p;
        p.at = p.hop_begin = SampleIndex{i * kHop};
        p.level = Dbfs{-30.0};
        if (const std::optional<double> semitones = semitones_at(i * 0.01)) {
            p.f0 = Hertz{220.0 * std::pow(2.0, *semitones / 12.0)};
            p.phonation = Phonation::voiced;
        }
        points.push_back(p);
    }
    return points;
}

Phonated phonated(std::vector<ContourPoint> points)
{
    Phonated p;
    p.onset = points.front().at;
    p.offset = points.back().at + SampleCount{kHop};
    p.contour = std::move(points);
    p.room = Dbfs{-70.0};
    return p;
}

std::optional<double> level_note(double) { return 0.0; }

double steady_run(const std::vector<ContourPoint>& points)
{
    return longest_steady_run(points, kRate).count();
}

}  // namespace

TEST_CASE("the right note in another octave is told from a wrong note")
{
    struct Row {
        double cents;  // from the target
        int octaves;
    };
    // Band of 100 cents about multiples of 1200.
    constexpr std::array<Row, 9> kRows{{{0.0, 0},
                                        {90.0, 0},
                                        {500.0, 0},
                                        {1090.0, 0},
                                        {1110.0, 1},
                                        {1200.0, 1},
                                        {-1200.0, -1},
                                        {-1320.0, 0},
                                        {2400.0, 2}}};
    for (const Row& row : kRows) {
        CAPTURE(row.cents);
        const Hertz target{349.228};
        const Hertz sung{349.228 * std::pow(2.0, row.cents / 1200.0)};
        CHECK(octaves_off(target, sung, {100.0}) == row.octaves);
    }
}

TEST_CASE("the longest steady run is as long as the note is kept")
{
    // By construction; from the first point to the last is one hop less than their number.
    CHECK(steady_run(contour(200, level_note)) == doctest::Approx(1.99));
    CHECK(steady_run({}) == 0.0);
    // A semitone and a half up in the middle breaks it; half a semitone does not.
    const auto step = [](double size) {
        return contour(300, [=](double t) { return std::optional{t < 1.995 ? 0.0 : size}; });
    };
    CHECK(steady_run(step(1.5)) == doctest::Approx(1.99));
    CHECK(steady_run(step(0.5)) == doctest::Approx(2.99));
    // 30 ms hidden are crossed, 60 ms are not.
    const auto hidden = [](double length) {
        return contour(300, [=](double t) {
            return t > 0.995 && t < 0.995 + length ? std::nullopt : std::optional{0.0};
        });
    };
    CHECK(steady_run(hidden(0.03)) == doctest::Approx(2.99));
    CHECK(steady_run(hidden(0.06)) < 2.0);
}

TEST_CASE("a slow drift and vibrato are one note, a siren is not")
{
    // A semitone a second: half a semitone from the mean of the half second before at most.
    CHECK(steady_run(contour(500, [](double t) { return std::optional{t}; })) > 4.9);
    const auto vibrato = [](double t) {
        return std::optional{0.5 * std::sin(2.0 * std::numbers::pi * 5.5 * t)};
    };
    CHECK(steady_run(contour(500, vibrato)) > 4.9);
    CHECK(steady_run(contour(500, [](double t) { return std::optional{12.0 * t}; })) < 0.5);
}

TEST_CASE("a note is sustained, talk is not")
{
    CHECK(is_sustained(phonated(contour(150, level_note)), kRate));
    // Shorter than a second: nine tenths of it must be steady.
    CHECK(is_sustained(phonated(contour(60, level_note)), kRate));
    const auto moves_early = [](double t) { return std::optional{t < 0.2 ? 30.0 * t : 6.0}; };
    CHECK_FALSE(is_sustained(phonated(contour(60, moves_early)), kRate));
    // Syllables of 0.4 s on different notes.
    const auto talk = [](double t) { return std::optional{std::fmod(t, 0.8) < 0.4 ? 0.0 : 4.0}; };
    CHECK_FALSE(is_sustained(phonated(contour(400, talk)), kRate));
    // One note that stops and starts more than once a second.
    Phonated stops = phonated(contour(300, level_note));
    stops.interruptions.resize(4);
    CHECK_FALSE(is_sustained(stops, kRate));
    stops.interruptions.resize(3);
    CHECK(is_sustained(stops, kRate));
}

TEST_CASE("a hold is measured: pitch, steadiness, band, level, and how far over the room")
{
    // A square wave of +-20 cents about 40 cents sharp: sd 20 cents, by definition; the hops at +60
    // are outside a band of 50 cents, half of all.
    const auto wave = [](double t) {
        return std::optional{0.40 + (std::fmod(t + 0.001, 0.2) < 0.1 ? 0.20 : -0.20)};
    };
    const Phonated p = phonated(contour(400, wave));
    const ListeningTask task{.sought = Sought::hold, .target = Hertz{220.0}, .band = Cents{50.0}};
    const Hold hold = measure_hold(p, task, {});
    REQUIRE(hold.f0_sd);
    CHECK(hold.f0_sd->value == doctest::Approx(20.0).epsilon(0.01));
    REQUIRE(hold.deviation);
    CHECK(std::abs(hold.deviation->value - 40.0) <= 20.01);  // the median is one of the two
    REQUIRE(hold.in_band);
    CHECK(hold.in_band->count() == doctest::Approx(2.0).epsilon(0.01));
    CHECK(hold.level.value == doctest::Approx(-30.0));
    CHECK(hold.snr.value == doctest::Approx(40.0));
    CHECK(hold.octaves_off == 0);

    const Hold without = measure_hold(p, {.sought = Sought::hold}, {});
    CHECK_FALSE(without.deviation);
    CHECK_FALSE(without.in_band);
    CHECK(without.f0_median);
}

TEST_CASE("a phonation in which no pitch was found has no measures")
{
    const auto nothing = [](double) { return std::optional<double>{}; };
    const Hold hold = measure_hold(phonated(contour(100, nothing)), {}, {});
    CHECK_FALSE(hold.f0_median);
    CHECK_FALSE(hold.f0_sd);
    CHECK(hold.level == kDigitalSilence);
}

TEST_CASE("what keeps its pitch better than the steadiest voice is no throat")
{
    // At 220 Hz jitter of 0.06 % leaves 1200 log2(1 + 0.0006 * 0.886 / sqrt(6.6)) = 0.36 cents. A
    // sine's standard deviation is 0.35 of its peak to peak.
    const auto swaying = [](double cents) {  // peak to peak
        return contour(400,
                       [=](double t) { return std::optional{cents / 200.0 * std::sin(9.0 * t)}; });
    };
    CHECK(is_like_a_machine(contour(120, level_note)));
    CHECK_FALSE(is_like_a_machine(contour(70, level_note)));  // too short to tell
    CHECK(is_like_a_machine(swaying(0.8)));
    CHECK_FALSE(is_like_a_machine(swaying(2.0)));
    const auto settles = [](double t) {
        return std::optional{t < 2.0 ? 0.1 * std::sin(9.0 * t) : 0.0};
    };
    CHECK(is_like_a_machine(contour(320, settles)));
    CHECK_FALSE(is_like_a_machine({}));
}
