// Every signal is a sum of a hum and a voice that the test made itself, so that what should be left
// over is known sample by sample.

#include "dsp/mains_hum.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

#include "tests/support/random.h"

using namespace holdwell;

namespace {

constexpr SampleRate kRate{8000.0};
constexpr double kTwoPi = 2.0 * std::numbers::pi;

using Samples = std::vector<float>;
using Course = std::function<Hertz(double seconds)>;

Course constant(Hertz f)
{
    return [f](double) { return f; };
}

// Harmonics 1 .. 20, 1/k, phases of their own, of mean square about 0.8 amplitude^2.
Samples series(const Course& f0, double amplitude, Seconds length, SampleRate rate = kRate)
{
    Samples x(static_cast<std::size_t>(length.count() * rate.hz));
    double phase = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        double sum = 0.0;
        for (int k = 1; k <= 20; ++k) sum += std::sin(k * phase + 1.7 * k * k) / k;
        x[i] = static_cast<float>(amplitude * sum);
        phase += kTwoPi * f0(static_cast<double>(i) / rate.hz).value / rate.hz;
    }
    return x;
}

// A voice that begins after so long.
Samples delayed(Samples x, Seconds by)
{
    x.insert(x.begin(), static_cast<std::size_t>(by.count() * kRate.hz), 0.0f);
    return x;
}

Samples sum_of(const Samples& a, const Samples& b)
{
    Samples x = a;
    for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i) x[i] += b[i];
    return x;
}

Samples without_hum(Samples x, SampleRate rate = kRate)
{
    MainsHum hum{rate};
    for (std::size_t i = 0; i < x.size(); i += 80) {
        hum.push(std::span{x}.subspan(i, std::min<std::size_t>(80, x.size() - i)));
    }
    return x;
}

// Level of a - b from `from` on, over that of c.
double left_db(const Samples& a, const Samples& b, const Samples& c, Seconds from)
{
    double left = 0.0;
    double whole = 0.0;
    for (auto i = static_cast<std::size_t>(from.count() * kRate.hz); i < c.size(); ++i) {
        const double d =
            static_cast<double>(a[i]) - static_cast<double>(i < b.size() ? b[i] : 0.0f);
        left += d * d;
        whole += static_cast<double>(c[i]) * static_cast<double>(c[i]);
    }
    return 10.0 * std::log10(left / whole);
}

}  // namespace

TEST_CASE("hum is taken off once it was heard alone for 200 ms, at any frequency a grid may have")
{
    // Grids keep within 0.2 Hz, by common practice.
    for (const double f : {50.0, 49.95, 50.2, 60.0, 60.03, 59.8}) {
        for (const double rate_hz : {8000.0, 8820.0, 15'750.0}) {
            CAPTURE(f);
            CAPTURE(rate_hz);
            const SampleRate rate{rate_hz};
            const Samples hum = series(constant({f}), 0.05, 1s, rate);
            const Samples rest = without_hum(hum, rate);
            const auto second = static_cast<std::size_t>(0.2 * rate.hz);
            CHECK(std::equal(hum.begin(), hum.begin() + static_cast<std::ptrdiff_t>(second) - 2,
                             rest.begin()));
            double left = 0.0;
            double whole = 0.0;
            for (std::size_t i = second + 2; i < hum.size(); ++i) {
                left += static_cast<double>(rest[i]) * static_cast<double>(rest[i]);
                whole += static_cast<double>(hum[i]) * static_cast<double>(hum[i]);
            }
            CHECK(10.0 * std::log10(left / whole) < -30.0);
        }
    }
}

TEST_CASE("hum stays off for twenty seconds of voice, though the mains' frequency wanders")
{
    // By 10 mHz in the time of a long hold: from memory, what the European grid does in a minute.
    const Course mains = [](double t) { return Hertz{50.02 + 0.01 * t / 20.0}; };
    const Course wandering = [](double t) { return Hertz{131.0 + 2.0 * std::sin(2.1 * t)}; };
    const Samples hum = series(mains, 0.05, 20s);
    for (const double voice_amplitude : {0.015, 0.05, 0.15}) {
        CAPTURE(voice_amplitude);
        const Samples voice = delayed(series(wandering, voice_amplitude, 19.5s), 500ms);
        CHECK(left_db(without_hum(sum_of(hum, voice)), voice, hum, 1s) < -15.0);
    }
}

TEST_CASE("a voice on a multiple of the mains' frequency keeps its strength, the hum still goes")
{
    const Samples hum = series(constant({50.0}), 0.05, 10s);
    for (const double f : {100.0, 150.0, 200.0, 349.23}) {
        CAPTURE(f);
        const Samples voice = delayed(series(constant({f}), 0.05, 9.5s), 500ms);
        CHECK(left_db(without_hum(sum_of(hum, voice)), voice, hum, 1s) < -15.0);
    }
}

TEST_CASE("a voice alone is left as it is, even exactly on a multiple of the mains' frequency")
{
    for (const double f : {65.0, 100.0, 120.0, 150.0, 180.0, 200.0, 250.0, 300.0, 420.0, 600.0}) {
        CAPTURE(f);
        const Samples voice = series(constant({f}), 0.1, 2s);
        CHECK(without_hum(voice) == voice);
    }
}

TEST_CASE("noise and silence are left as they are")
{
    test::Random random{7};
    Samples x(16'000);
    for (float& v : x) v = static_cast<float>(0.1 * random.normal());
    CHECK(without_hum(x) == x);
    const Samples nothing(16'000, 0.0f);
    CHECK(without_hum(nothing) == nothing);
}

TEST_CASE("hum that was switched off is forgotten within a second, and learnt again")
{
    const Samples hum = series(constant({60.0}), 0.05, 1s);
    Samples x = hum;
    const Samples voice = series(constant({190.0}), 0.02, 2s);
    x.insert(x.end(), voice.begin(), voice.end());
    x.insert(x.end(), hum.begin(), hum.end());
    const Samples rest = without_hum(x);
    CHECK(std::equal(x.begin() + 16'000, x.begin() + 24'000, rest.begin() + 16'000));
    for (auto i = rest.end() - 4000; i != rest.end(); ++i) CHECK(std::abs(*i) < 0.01f);
}

TEST_CASE("what is left over of the room is known with its hum, and forgotten with it")
{
    test::Random random{8};
    Samples x = series(constant({50.0}), 0.05, 1s);
    for (float& v : x) v += static_cast<float>(0.003 * random.normal());
    MainsHum hum{kRate};
    CHECK_FALSE(hum.rest());
    hum.push(x);
    REQUIRE(hum.rest());
    CHECK(*hum.rest() == doctest::Approx(0.003 * 0.003).epsilon(0.2));
    hum.reset();
    CHECK_FALSE(hum.rest());
}
