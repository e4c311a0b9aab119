#include "dsp/noise_colour.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "dsp/vector_sums.h"

namespace holdwell {

namespace {

// Of the average, a frame later: it lasts some 30 ms beyond the frame.
constexpr double kMemory = 0.6;
// White noise of this share of the frame's power is always expected: where a fit leaves nothing
// over, there is no colour either. What a moving voice leaves over is its movement as well as
// noise, and has the colour of its harmonics: the share grows with the cube of the movement, as
// more of it would make the next fit worse.
constexpr double kLeastWhite = 1e-4;
constexpr double kWhiteByMovement = 10.0;  // per cubed octave

// The prediction-error filter, or nothing where the correlations are no noise's.
using Lags = std::array<double, NoiseColour::kOrder + 1>;
std::optional<Lags> prediction_error_filter(const Lags& r)
{
    Lags a{1.0};
    double left = r[0];
    for (std::size_t m = 1; m < a.size(); ++m) {
        if (!(left > 0.0)) return std::nullopt;
        double sum = 0.0;
        for (std::size_t j = 0; j < m; ++j) sum += a[j] * r[m - j];
        const double reflection = -sum / left;
        const Lags before = a;
        for (std::size_t j = 1; j <= m; ++j) a[j] += reflection * before[m - j];
        left *= 1.0 - reflection * reflection;
    }
    return a;
}

// sum of x[i] x[i - lag] over the whole frame.
HOLDWELL_WIDE double lagged_product(std::span<const float> x, std::size_t lag) noexcept
{
    const std::size_t whole = (x.size() - lag) / kLanes * kLanes;
    double sum = dot(x.data() + lag, x.data(), whole);
    for (std::size_t i = lag + whole; i < x.size(); ++i) {
        sum += static_cast<double>(x[i]) * static_cast<double>(x[i - lag]);
    }
    return sum;
}

}  // namespace

void NoiseColour::add(std::span<const float> noise, const Source& from) noexcept
{
    for (std::size_t lag = 0; lag <= kOrder; ++lag) {
        const double now = lagged_product(noise, lag) / static_cast<double>(noise.size());
        correlation_[lag] = kMemory * correlation_[lag] + (1.0 - kMemory) * now;
    }
    const double white = kLeastWhite + kWhiteByMovement * std::pow(std::abs(from.octaves), 3);
    correlation_[0] += (1.0 - kMemory) * white * from.power;
    const std::optional<Lags> filter = prediction_error_filter(correlation_);
    for (std::size_t j = 0; j <= kOrder; ++j) {
        filter_[j] = filter ? static_cast<float>((*filter)[j]) : (j == 0 ? 1.0f : 0.0f);
    }
    for (std::size_t lag = 0; lag <= kOrder; ++lag) {
        gain_[lag] = 0.0;
        for (std::size_t j = lag; j <= kOrder; ++j) {
            gain_[lag] += static_cast<double>(filter_[j]) * static_cast<double>(filter_[j - lag]);
        }
    }
}

// The cosine series of the filter's autocorrelation, summed by Clenshaw's recurrence.
double NoiseColour::power_gain(double radians_per_sample) const noexcept
{
    const double cosine = std::cos(radians_per_sample);
    double sum = 0.0, before = 0.0;
    for (std::size_t lag = kOrder; lag > 0; --lag) {
        const double next = 2.0 * cosine * sum - before + gain_[lag];
        before = sum;
        sum = next;
    }
    return gain_[0] + 2.0 * (cosine * sum - before);
}

HOLDWELL_WIDE void NoiseColour::whiten(std::span<const float> x,
                                       std::span<float> out) const noexcept
{
    std::fill(out.begin(), out.end(), 0.0f);
    for (std::size_t j = 0; j <= kOrder; ++j) {
        const float a = filter_[j];
        const float* from = x.data() + (kOrder - j);
        for (std::size_t i = 0; i < out.size(); ++i) out[i] += a * from[i];
    }
}

}  // namespace holdwell
