#include "dsp/line_pattern.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace holdwell {

namespace {

constexpr double kStandsOut = 40.0;       // power over the noise at which a line counts for half
constexpr std::size_t kMostMultiple = 7;  // f0 / 7 of the highest voice is near 150 Hz
// From here on a single multiple may be an accident of the noise: two must be in the band.
constexpr std::size_t kSureMultiple = 3;
// Of a line that is as strong as its neighbours, supposed before any is seen.
constexpr double kBenefitOfDoubt = 0.7;

// Power to expect of the lines between two neighbouring multiples, by interpolation of their logs.
// Absent when neither is among the lines.
std::optional<double> expected_power(const LineFit& fit, std::size_t below, std::size_t above)
{
    const bool has_above = above <= fit.count;
    if (below == 0 && !has_above) return std::nullopt;
    if (below == 0) return fit.power[above - 1];
    if (!has_above) return fit.power[below - 1];
    return std::sqrt(fit.power[below - 1] * fit.power[above - 1]);
}

}  // namespace

double filled_between_multiples(const LineFit& fit, std::size_t m)
{
    double sum = kBenefitOfDoubt;
    double weight_sum = kBenefitOfDoubt;
    for (std::size_t below = 0; below < fit.count; below += m) {
        const std::size_t above = below + m;
        const std::optional<double> expected = expected_power(fit, below, above);
        if (!expected || !(*expected > 0.0)) continue;
        const double weight = *expected / (*expected + kStandsOut * fit.noise_power);
        for (std::size_t k = below + 1; k < std::min(above, fit.count + 1); ++k) {
            const double power = std::max(0.0, fit.power[k - 1] - fit.noise_power);
            sum += weight * std::min(1.0, std::sqrt(power / *expected));
            weight_sum += weight;
        }
    }
    return sum / weight_sum;
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
