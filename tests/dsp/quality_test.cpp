#include "dsp/quality.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "tests/support/allocation_guard.h"
#include "tests/support/random.h"

// Signals whose jitter, shimmer and noise are known exactly, cycle by cycle. Expected values are
// those of the signal itself, by the definitions of dsp/quality.h.

using namespace holdwell;
using test::Random;

namespace {

constexpr SampleRate kRate{48'000.0};
constexpr double kPi = std::numbers::pi;
constexpr std::size_t kHop = 480;
constexpr double kLengthSeconds = 4.0;

struct Perturbed {
    double f0_hz{220.0};
    double jitter_percent{0.0};   // local
    double shimmer_percent{0.0};  // local
    double hnr_db{100.0};         // white noise
};

struct Signal {
    std::vector<double> x;
    std::vector<double> periods;
    std::vector<double> amplitudes;
};

// Mean absolute difference of neighbours over the mean.
double local_percent(const std::vector<double>& v)
{
    double steps = 0.0;
    double sum = v.front();
    for (std::size_t i = 1; i < v.size(); ++i) {
        steps += std::abs(v[i] - v[i - 1]);
        sum += v[i];
    }
    return 100.0 * steps / static_cast<double>(v.size() - 1) /
           (sum / static_cast<double>(v.size()));
}

// Normal deviates of sd s differ by 2 s / sqrt(pi) on average.
double sd_of(double local) { return local / 100.0 * std::sqrt(kPi) / 2.0; }

void add_white_noise(std::vector<double>& x, double hnr_db, Random& random)
{
    double energy = 0.0;
    for (const double v : x) energy += v * v;
    const double sd =
        std::sqrt(energy / static_cast<double>(x.size()) / std::pow(10.0, hnr_db / 10.0));
    for (double& v : x) v += sd * random.normal();
}

// Twelve harmonics, 1/k, whose cycles are stretched and shortened copies of one another.
Signal stretched_cycles(const Perturbed& p, std::uint64_t seed)
{
    Random random{seed};
    std::array<double, 12> phases{};
    for (double& phase : phases) phase = random.uniform(0.0, 0.6);
    Signal s;
    double phase = 0.0;
    double period = 1.0;
    for (std::size_t i = 0; i < static_cast<std::size_t>(kLengthSeconds * kRate.hz); ++i) {
        double v = 0.0;
        for (std::size_t k = 1; k <= phases.size(); ++k) {
            const auto order = static_cast<double>(k);
            v += std::cos(2.0 * kPi * order * phase + phases[k - 1]) / order;
        }
        s.x.push_back(0.1 * v);
        phase += p.f0_hz / (period * kRate.hz);
        if (phase < 1.0) continue;
        phase -= 1.0;
        s.periods.push_back(period);
        period = 1.0 + sd_of(p.jitter_percent) * random.normal();
    }
    add_white_noise(s.x, p.hnr_db, random);
    return s;
}

// Two formants that die away within their cycle, struck at exact instants: a tract without memory.
Signal struck_formants(const Perturbed& p, std::uint64_t seed)
{
    Random random{seed};
    const double f1_hz = random.uniform(500.0, 900.0);
    const double f2_hz = random.uniform(1100.0, 2400.0);
    Signal s;
    s.x.resize(static_cast<std::size_t>(kLengthSeconds * kRate.hz));
    for (double at_s = 0.002; at_s < kLengthSeconds - 0.02;) {
        const double period = 1.0 + sd_of(p.jitter_percent) * random.normal();
        const double amplitude = 1.0 + sd_of(p.shimmer_percent) * random.normal();
        const auto first = static_cast<std::size_t>(std::ceil(at_s * kRate.hz));
        for (std::size_t i = first; i < std::min(first + 960, s.x.size()); ++i) {
            const double t = static_cast<double>(i) / kRate.hz - at_s;
            const double attack = 1.0 - std::exp(-t / 0.0002);
            s.x[i] += 0.2 * amplitude * attack * attack * std::exp(-kPi * 2.2 * p.f0_hz * t) *
                      (std::sin(2.0 * kPi * f1_hz * t) + 0.4 * std::sin(2.0 * kPi * f2_hz * t));
        }
        s.periods.push_back(period);
        s.amplitudes.push_back(amplitude);
        at_s += period / p.f0_hz;
    }
    add_white_noise(s.x, p.hnr_db, random);
    return s;
}

FrameReading voiced_at(double f0_hz)
{
    FrameReading r;
    r.phonation = Phonation::voiced;
    r.f0 = Hertz{f0_hz};
    r.level = Dbfs{-24.0};
    r.noise_floor = Dbfs{-70.0};
    return r;
}

void feed(QualityMeter& meter, const std::vector<double>& x, const FrameReading& reading)
{
    const std::vector<float> samples(x.begin(), x.end());
    for (std::size_t i = 0; i + kHop <= samples.size(); i += kHop) {
        meter.push(std::span{samples}.subspan(i, kHop), reading);
    }
}

std::optional<Quality> quality_of(const std::vector<double>& x, double f0_hz)
{
    QualityMeter meter{AnalysisConfig{.sample_rate = kRate}};
    feed(meter, x, voiced_at(f0_hz));
    return meter.result();
}

// Between C3 and G4, the notes that are held.
double note_hz(int i) { return 130.8 * std::exp2(static_cast<double>(i % 20) / 12.0); }

}  // namespace

TEST_CASE("jitter within 10 % of the truth, 0.2 to 3 %")
{
    for (const double jitter : {0.2, 0.5, 1.0, 2.0, 3.0}) {
        for (int i = 0; i < 6; ++i) {
            const Perturbed p{.f0_hz = note_hz(7 * i), .jitter_percent = jitter};
            const auto seed = static_cast<std::uint64_t>(100 * i + 7);
            for (const Signal& s : {stretched_cycles(p, seed), struck_formants(p, seed)}) {
                const auto q = quality_of(s.x, p.f0_hz);
                REQUIRE(q);
                CAPTURE(p.f0_hz);
                CAPTURE(jitter);
                CHECK(q->jitter_percent == doctest::Approx(local_percent(s.periods)).epsilon(0.10));
            }
        }
    }
}

TEST_CASE("shimmer within 10 % of the truth, 1 to 8 %")
{
    for (const double shimmer : {1.0, 2.0, 4.0, 8.0}) {
        for (int i = 0; i < 13; ++i) {
            const Perturbed p{.f0_hz = note_hz(7 * i), .shimmer_percent = shimmer};
            const Signal s = struck_formants(p, static_cast<std::uint64_t>(100 * i + 3));
            const auto q = quality_of(s.x, p.f0_hz);
            REQUIRE(q);
            CAPTURE(p.f0_hz);
            CHECK(q->shimmer_percent == doctest::Approx(local_percent(s.amplitudes)).epsilon(0.10));
        }
    }
}

TEST_CASE("a voice without perturbation has hardly any")
{
    for (int i = 0; i < 20; i += 3) {
        const auto q = quality_of(stretched_cycles({.f0_hz = note_hz(i)}, 5).x, note_hz(i));
        REQUIRE(q);
        CHECK(q->jitter_percent < 0.02);
        CHECK(q->shimmer_percent < 0.2);
    }
}

TEST_CASE("harmonics to noise within 1 dB of the truth, 5 to 30 dB")
{
    for (const double hnr : {5.0, 10.0, 15.0, 20.0, 25.0, 30.0}) {
        for (int i = 0; i < 5; ++i) {
            const Perturbed p{.f0_hz = note_hz(7 * i), .hnr_db = hnr};
            const auto seed = static_cast<std::uint64_t>(50 * i + 11);
            for (const Signal& s : {stretched_cycles(p, seed), struck_formants(p, seed)}) {
                const auto q = quality_of(s.x, p.f0_hz);
                CAPTURE(p.f0_hz);
                CAPTURE(hnr);
                REQUIRE(q);
                CHECK(std::abs(q->hnr.value - hnr) <= 1.0);
            }
        }
    }
}

TEST_CASE("the cepstral peak sinks as noise rises")
{
    for (int i = 0; i < 20; i += 3) {
        double before = 100.0;
        for (const double hnr : {40.0, 30.0, 20.0, 10.0}) {
            const Perturbed p{.f0_hz = note_hz(i), .hnr_db = hnr};
            const auto q = quality_of(struck_formants(p, 9).x, p.f0_hz);
            REQUIRE(q);
            CAPTURE(p.f0_hz);
            CAPTURE(hnr);
            CHECK(q->cpps.value < before);
            CHECK(q->cpps.value > 0.0);
            before = q->cpps.value;
        }
    }
}

TEST_CASE("absent rather than wrong")
{
    const Signal good = struck_formants({.f0_hz = 200.0, .jitter_percent = 0.5}, 1);
    REQUIRE(quality_of(good.x, 200.0));
    SUBCASE("noise")
    {
        Random random{4};
        std::vector<double> noise(good.x.size());
        for (double& v : noise) v = 0.1 * random.normal();
        CHECK_FALSE(quality_of(noise, 200.0));
    }
    SUBCASE("too short: 2.4 s, of which 0.6 s are left out")
    {
        const auto short_end = good.x.begin() + static_cast<std::ptrdiff_t>(2.4 * kRate.hz);
        CHECK_FALSE(quality_of({good.x.begin(), short_end}, 200.0));
    }
    SUBCASE("less than 30 dB over the room")
    {
        QualityMeter meter{AnalysisConfig{.sample_rate = kRate}};
        FrameReading reading = voiced_at(200.0);
        reading.noise_floor = reading.level - Decibels{29.0};
        feed(meter, good.x, reading);
        CHECK_FALSE(meter.result());
    }
    SUBCASE("not voiced")
    {
        QualityMeter meter{AnalysisConfig{.sample_rate = kRate}};
        feed(meter, good.x, FrameReading{});
        CHECK_FALSE(meter.result());
    }
    SUBCASE("every second cycle alike")
    {
        std::vector<double> x(good.x.size());
        for (std::size_t i = 0; i < x.size(); ++i) {
            const double cycles = 200.0 * static_cast<double>(i) / kRate.hz;
            const double height = std::fmod(cycles, 2.0) < 1.0 ? 1.0 : 0.85;
            const double t = std::fmod(cycles, 1.0) / 200.0;
            x[i] = 0.2 * height * std::exp(-1500.0 * t) * std::sin(2.0 * kPi * 700.0 * t);
        }
        CHECK_FALSE(quality_of(x, 200.0));
    }
    SUBCASE("sampled too slowly to time a cycle")
    {
        QualityMeter meter{AnalysisConfig{.sample_rate = SampleRate{16'000.0}}};
        feed(meter, good.x, voiced_at(200.0 / 3.0));
        CHECK_FALSE(meter.result());
    }
}

TEST_CASE("the same at any level and after reset, and nothing allocated")
{
    const Signal s =
        struck_formants({.f0_hz = 196.0, .jitter_percent = 0.4, .shimmer_percent = 3.0}, 8);
    QualityMeter meter{AnalysisConfig{.sample_rate = kRate}};
    feed(meter, s.x, voiced_at(196.0));
    const auto first = meter.result();
    REQUIRE(first);
    meter.reset();
    CHECK_FALSE(meter.result());
    const std::vector<float> samples(s.x.begin(), s.x.end());
    const test::AllocationGuard guard;
    for (std::size_t i = 0; i + kHop <= samples.size(); i += kHop) {
        meter.push(std::span{samples}.subspan(i, kHop), voiced_at(196.0));
    }
    CHECK(guard.allocations() == 0);
    CHECK(meter.result()->jitter_percent == first->jitter_percent);
    CHECK(meter.result()->cpps == first->cpps);
    std::vector<double> soft = s.x;
    for (double& v : soft) v *= -0.05;
    const auto quiet = quality_of(soft, 196.0);
    REQUIRE(quiet);
    CHECK(quiet->jitter_percent == doctest::Approx(first->jitter_percent).epsilon(1e-3));
    CHECK(quiet->shimmer_percent == doctest::Approx(first->shimmer_percent).epsilon(1e-3));
    CHECK(quiet->hnr.value == doctest::Approx(first->hnr.value).epsilon(1e-3));
    CHECK(quiet->cpps.value == doctest::Approx(first->cpps.value).epsilon(1e-2));
}
