#include "dsp/biquad.h"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <random>

#include "dsp/units.h"

using namespace holdwell;

namespace {

constexpr SampleRate kRate{48'000.0};

// Of a steady tone, from the last tenth of a second of one.
template <class Filter>
double gain_at(Filter filter, Hertz f)
{
    const double w = 2.0 * std::numbers::pi * f.value / kRate.hz;
    constexpr int kAll = 48'000, kLast = 4'800;
    std::complex<double> sum;
    for (int i = 0; i < kAll; ++i) {
        const double y = filter.push(std::cos(w * i));
        if (i >= kAll - kLast) sum += y * std::polar(2.0 / kLast, -w * i);
    }
    return std::abs(sum);
}

// Of a Butterworth filter of order n that the bilinear transform makes digital, low-pass; swap the
// two frequencies for a high-pass. A. V. Oppenheim and R. W. Schafer, "Discrete-time signal
// processing", on the design of IIR filters by the bilinear transform (formula from memory).
double butterworth_gain(int n, Hertz f, Hertz corner)
{
    const auto warped = [](Hertz h) { return std::tan(std::numbers::pi * h.value / kRate.hz); };
    return 1.0 / std::sqrt(1.0 + std::pow(warped(f) / warped(corner), 2 * n));
}

}  // namespace

TEST_CASE("cascades have the gain of Butterworth filters")
{
    const Hertz corner{1000.0};
    for (const double hz : {250.0, 500.0, 1000.0, 2000.0, 4000.0}) {
        CAPTURE(hz);
        const Hertz f{hz};
        CHECK(gain_at(BiquadCascade<1>::low_pass(corner, kRate), f) ==
              doctest::Approx(butterworth_gain(2, f, corner)).epsilon(1e-6));
        CHECK(gain_at(BiquadCascade<2>::low_pass(corner, kRate), f) ==
              doctest::Approx(butterworth_gain(4, f, corner)).epsilon(1e-6));
        CHECK(gain_at(BiquadCascade<1>::high_pass(corner, kRate), f) ==
              doctest::Approx(butterworth_gain(2, corner, f)).epsilon(1e-6));
        CHECK(gain_at(BiquadCascade<2>::high_pass(corner, kRate), f) ==
              doctest::Approx(butterworth_gain(4, corner, f)).epsilon(1e-6));
    }
}

TEST_CASE("two sections side by side give what each gives alone")
{
    Biquad low = BiquadCascade<1>::low_pass(Hertz{800.0}, kRate).section(0);
    Biquad high = BiquadCascade<1>::high_pass(Hertz{4000.0}, kRate).section(0);
    BiquadPair both{low, high};
    std::mt19937_64 random{5};
    std::normal_distribution<double> normal;
    for (int i = 0; i < 1000; ++i) {
        const double x = normal(random), y = normal(random);
        const Two together = both.push(Two{x, y});
        CHECK(together[0] == low.push(x));
        CHECK(together[1] == high.push(y));
    }
    // A tail: what has died away is forgotten by all alike.
    double last = 1.0;
    for (int i = 0; i < 200'000; ++i) {
        const Two together = both.push(Two{});
        last = low.push(0.0);
        CHECK(together[0] == last);
        CHECK(together[1] == high.push(0.0));
        if (i % 480 != 0) continue;
        both.flush();
        low.flush();
        high.flush();
    }
    CHECK(last == 0.0);

    both.push(Two{1.0, 1.0});
    both.reset();
    const Two after = both.push(Two{});
    CHECK(after[0] == 0.0);
    CHECK(after[1] == 0.0);
}
