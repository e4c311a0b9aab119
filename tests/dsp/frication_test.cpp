#include "dsp/frication.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <span>
#include <vector>

#include "tests/dsp/hiss_material.h"
#include "tests/support/allocation_guard.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr std::size_t kHop = 480;

std::vector<FricationReading> readings_of(const std::vector<float>& samples)
{
    FricationMeter meter{AnalysisConfig{.sample_rate = kHissRate}};
    std::vector<FricationReading> all;
    for (std::size_t i = 0; i + kHop <= samples.size(); i += kHop)
        all.push_back(meter.push(std::span<const float>{samples}.subspan(i, kHop)));
    return all;
}

// How many hops within [from, to) are named so.
int count_of(Phonation kind, const std::vector<FricationReading>& all, Seconds from, Seconds to)
{
    int n = 0;
    for (const FricationReading& r : all) {
        const Seconds at = time_of(r.begin, kHissRate);
        n += at >= from && at < to && aperiodic_kind(r) == kind ? 1 : 0;
    }
    return n;
}

// Level of a sine of RMS 1 after the filter.
template <typename Filter>
double gain_db_at(Filter filter, double hz)
{
    double sum = 0.0;
    constexpr int kSettled = 24'000, kAll = 72'000;
    for (int i = 0; i < kAll; ++i) {
        const double phase = 2.0 * std::numbers::pi * hz * i / kHissRate.hz;
        const double y = filter.push(std::numbers::sqrt2 * std::sin(phase));
        if (i >= kSettled) sum += y * y;
    }
    return 10.0 * std::log10(sum / (kAll - kSettled));
}

}  // namespace

TEST_CASE("Butterworth filters are 3.01 dB down at their corner and fall by order times 6 dB")
{
    // |H|^2 = 1 / (1 + (f/fc)^2N); by the bilinear transform at tan(pi f / rate) in place of f.
    const auto expected = [](double hz, double corner_hz, int order) {
        const double warp = std::tan(std::numbers::pi * hz / kHissRate.hz) /
                            std::tan(std::numbers::pi * corner_hz / kHissRate.hz);
        return -10.0 * std::log10(1.0 + std::pow(warp, 2.0 * order));
    };
    for (const double hz : {500.0, 1000.0, 3000.0, 6000.0}) {
        CAPTURE(hz);
        const auto low2 = BiquadCascade<1>::low_pass(Hertz{3000.0}, kHissRate);
        const auto low4 = BiquadCascade<2>::low_pass(Hertz{3000.0}, kHissRate);
        const auto high4 = BiquadCascade<2>::high_pass(Hertz{3000.0}, kHissRate);
        CHECK(gain_db_at(low2, hz) == doctest::Approx(expected(hz, 3000.0, 2)).epsilon(0.002));
        CHECK(gain_db_at(low4, hz) == doctest::Approx(expected(hz, 3000.0, 4)).epsilon(0.002));
        // A high pass is the low pass with the axis turned over.
        const double mirrored = 24'000.0 - hz;
        CHECK(gain_db_at(high4, hz) ==
              doctest::Approx(expected(mirrored, 21'000.0, 4)).epsilon(0.002));
    }
}

TEST_CASE("white noise reads in each band what the band's width gives")
{
    HissScene scene{2s, 5};
    scene.sound(noise(NoiseKind::white, 2s, kHissRate, 77), 0s, Dbfs{-30.0});
    double hiss = 0.0, low = 0.0;
    const auto all = readings_of(scene.samples());
    for (const FricationReading& r : all) {
        hiss += mean_square_of(r.hiss) / static_cast<double>(all.size());
        low += mean_square_of(r.low) / static_cast<double>(all.size());
    }
    // Widths over 24 kHz. The noise bandwidth of a Butterworth low pass of order N is
    // (pi / 2N) / sin(pi / 2N) of its corner: 1.11 (N = 2), 1.026 (N = 4); widths below take the
    // edges as sharp, which is right to 0.5 dB.
    CHECK(level_of(hiss).value ==
          doctest::Approx(-30.0 + 10.0 * std::log10(7.0 / 24.0)).epsilon(0.02));
    CHECK(level_of(low).value ==
          doctest::Approx(-30.0 + 10.0 * std::log10(2.7 / 24.0)).epsilon(0.02));
}

TEST_CASE("an /s/ is frication, breath and a tap are breath, and the room is silence")
{
    struct Row {
        const char* name;
        std::vector<double> sound;
        Phonation kind;
    };
    const Row rows[] = {
        {"/s/ of tests/support", noise(NoiseKind::sibilant, 1s, kHissRate, 1),
         Phonation::frication},
        {"/s/ of a flat mouth",
         coloured_hiss({Hertz{3200.0}, Hertz{14'000.0}, Decibels{-16.0}}, 1s, 2),
         Phonation::frication},
        {"breath", noise(NoiseKind::breath, 1s, kHissRate, 3), Phonation::breath},
        {"tap", noise(NoiseKind::white, 1s, kHissRate, 4), Phonation::breath},
        {"fan", noise(NoiseKind::fan, 1s, kHissRate, 5), Phonation::breath},
    };
    for (const Row& row : rows) {
        CAPTURE(row.name);
        HissScene scene{3s, 6};
        scene.room(NoiseKind::room, Dbfs{-60.0}).sound(row.sound, 1s, Dbfs{-40.0});
        const auto all = readings_of(scene.samples());
        // 100 hops sound; the filters and the mean over 30 ms blur three at each end.
        CHECK(count_of(row.kind, all, 1.05s, 1.97s) >= 87);
        CHECK(count_of(Phonation::silence, all, 0.2s, 0.98s) >= 76);
        CHECK(count_of(Phonation::silence, all, 2.1s, 2.9s) >= 78);
    }
}

TEST_CASE("a tap left running becomes part of the room within seconds, an /s/ of 40 s does not")
{
    HissScene tap{9s, 8};
    tap.room(NoiseKind::room, Dbfs{-60.0})
        .sound(noise(NoiseKind::white, 8s, kHissRate, 9), 1s, Dbfs{-45.0});
    CHECK(count_of(Phonation::silence, readings_of(tap.samples()), 8s, 9s) >= 98);

    HissScene mouth{42s, 10};
    mouth.room(NoiseKind::room, Dbfs{-60.0})
        .sound(noise(NoiseKind::sibilant, 40s, kHissRate, 11), 1s, Dbfs{-45.0});
    CHECK(count_of(Phonation::frication, readings_of(mouth.samples()), 39s, 40.9s) >= 188);
}

TEST_CASE("zeros before a microphone starts are not taken for its room")
{
    std::vector<float> samples(24'000, 0.0f);
    HissScene scene{2s, 12};
    scene.room(NoiseKind::white, Dbfs{-50.0});
    const std::vector<float> room = scene.samples();
    samples.insert(samples.end(), room.begin(), room.end());
    CHECK(count_of(Phonation::silence, readings_of(samples), 0.7s, 2.5s) >= 178);
}

TEST_CASE("below 11 kHz there is no hiss band, an /s/ is timed from 44.1 kHz on")
{
    CHECK(hears_sibilants(SampleRate{44'100.0}));
    CHECK_FALSE(hears_sibilants(SampleRate{32'000.0}));
    FricationMeter meter{AnalysisConfig{.sample_rate = SampleRate{8000.0}}};
    const std::vector<float> loud(80, 0.5f);
    CHECK(meter.push(loud).hiss == kDigitalSilence);
}

TEST_CASE("samples that are no numbers leave the meter whole, and no hop allocates")
{
    FricationMeter meter{AnalysisConfig{.sample_rate = kHissRate}};
    std::vector<float> hop(kHop, 0.01f);
    hop[7] = std::numeric_limits<float>::quiet_NaN();
    hop[9] = std::numeric_limits<float>::infinity();
    const AllocationGuard guard;
    for (int i = 0; i < 100; ++i) meter.push(hop);
    const FricationReading r = meter.push(hop);
    CHECK(guard.allocations() == 0);
    CHECK(std::isfinite(r.hiss.value));
    CHECK(std::isfinite(r.low_floor.value));
}
