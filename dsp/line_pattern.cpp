#include "dsp/line_pattern.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace holdwell {

namespace {

constexpr double kEmpty = 0.03;           // a line 30 dB down is as good as missing
constexpr double kStandsOut = 20.0;       // power over the noise at which a line counts for half
constexpr std::size_t kMostMultiple = 7;  // f0 / 7 of the highest voice is near 150 Hz
// From here on a single multiple may be an accident of the noise: two must be in the band.
constexpr std::size_t kSureMultiple = 3;
constexpr double kLeastWeight = 0.3;  // of all lines together, to say anything

// Power to expect of line k from the multiples of m about it, by interpolation of their logs.
std::optional<double> expected_power(const LineFit& fit, std::size_t k, std::size_t m)
{
    const std::size_t below = k / m * m;
    const std::size_t above = below + m;
    const bool has_above = above <= fit.count;
    if (below == 0 && !has_above) return std::nullopt;
    if (below == 0) return fit.power[above - 1];
    if (!has_above) return fit.power[below - 1];
    return std::sqrt(fit.power[below - 1] * fit.power[above - 1]);
}

}  // namespace

double filled_between_multiples(const LineFit& fit, std::size_t m)
{
    double log_sum = 0.0;
    double weight_sum = 0.0;
    for (std::size_t k = 1; k <= fit.count; ++k) {
        if (k % m == 0) continue;
        const std::optional<double> expected = expected_power(fit, k, m);
        if (!expected || !(*expected > 0.0)) continue;
        const double weight = *expected / (*expected + kStandsOut * fit.noise_power);
        const double power = std::max(0.0, fit.power[k - 1] - fit.noise_power);
        log_sum += weight * std::log(std::clamp(std::sqrt(power / *expected), kEmpty, 1.0));
        weight_sum += weight;
    }
    return weight_sum > kLeastWeight ? std::exp(log_sum / weight_sum) : 1.0;
}

double least_filled(const LineFit& fit)
{
    double least = 1.0;
    for (std::size_t m = 2; m <= kMostMultiple; ++m) {
        if (m > kSureMultiple && fit.count < 2 * m) break;
        least = std::min(least, filled_between_multiples(fit, m));
    }
    return least;
}

}  // namespace holdwell
