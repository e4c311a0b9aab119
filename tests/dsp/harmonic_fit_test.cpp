#include "dsp/harmonic_fit.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

using namespace holdwell;

namespace {

constexpr std::size_t kLength = 296;  // 37 ms
constexpr SampleRate kRate{8000.0};

// Lines at k f of amplitude 1 / k and phase k.
std::vector<float> tone(double f, int lines)
{
    std::vector<float> x(kLength);
    for (std::size_t i = 0; i < kLength; ++i) {
        double sum = 0.0;
        for (int k = 1; k <= lines; ++k) {
            const double turns = k * f * static_cast<double>(i) / kRate.hz;
            sum += std::cos(2.0 * std::numbers::pi * turns + k) / k;
        }
        x[i] = static_cast<float>(sum);
    }
    return x;
}

}  // namespace

TEST_CASE("a sum of harmonics is explained wholly, and every line has its own power")
{
    HarmonicFit fit{kRate, kLength, 1.0};
    for (const double f : {120.0, 220.0, 349.2, 700.0}) {
        CAPTURE(f);
        fit.set_frame(tone(f, 4));
        const LineFit found = fit.fit({f}, {3500.0}, 4);
        REQUIRE(found.count == 4);
        CHECK(found.residual < 1e-3);
        for (int k = 1; k <= 4; ++k) {  // a^2 + b^2 = (1 / k)^2
            CHECK(found.power[static_cast<std::size_t>(k - 1)] ==
                  doctest::Approx(1.0 / (k * k)).epsilon(0.02));
        }
    }
}

TEST_CASE("lines far from every harmonic are left over, and so is silence")
{
    HarmonicFit fit{kRate, kLength, 1.0};
    fit.set_frame(tone(1500.0, 1));
    CHECK(fit.fit({400.0}, {1300.0}, 16).residual > 0.99);
    fit.set_frame(std::vector<float>(kLength, 0.0f));
    CHECK(fit.fit({220.0}, {3500.0}, 8).residual == 1.0);
}
