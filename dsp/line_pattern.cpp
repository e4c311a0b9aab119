#include "dsp/line_pattern.h"

#include <algorithm>
#include <cmath>

namespace holdwell {

namespace {

constexpr double kStandsOut = 40.0;       // power over the noise at which a line counts for half
constexpr std::size_t kMostMultiple = 7;  // f0 / 7 of the highest voice is near 150 Hz
// From here on a single multiple may be an accident of the noise: two must be in the band.
constexpr std::size_t kSureMultiple = 3;
// Of a line that is as strong as its neighbours, supposed before any is seen.
constexpr double kBenefitOfDoubt = 1.0;

// What to expect of the lines between two neighbouring multiples, by interpolation of their logs;
// one of them at least is among the `count` lines.
double between(const Lines::Values& values, std::size_t count, std::size_t below, std::size_t above)
{
    if (below == 0) return values[above - 1];
    if (above > count) return values[below - 1];
    return std::sqrt(values[below - 1] * values[above - 1]);
}

struct Amplitudes {
    explicit Amplitudes(const Lines& lines) : count{lines.count}, over_noise{lines.over_noise}
    {
        for (std::size_t k = 0; k < count; ++k) {
            const double voiced_share = std::max(0.0, 1.0 - 1.0 / over_noise[k]);
            heard[k] = std::sqrt(lines.power[k]);
            voiced[k] = heard[k] * std::sqrt(voiced_share);
        }
    }

    std::size_t count;
    const Lines::Values& over_noise;  // powers
    Lines::Values heard{}, voiced{};  // with the noise and without
};

double filled_between(const Amplitudes& lines, std::size_t m)
{
    if (m > lines.count) return 1.0;
    double sum = kBenefitOfDoubt;
    double weight_sum = kBenefitOfDoubt;
    for (std::size_t below = 0; below < lines.count; below += m) {
        const std::size_t above = below + m;
        const double expected = between(lines.heard, lines.count, below, above);
        if (!(expected > 0.0)) continue;
        const double visible = between(lines.over_noise, lines.count, below, above);
        const double weight = visible / (visible + kStandsOut);
        for (std::size_t k = below + 1; k < std::min(above, lines.count + 1); ++k) {
            sum += weight * std::min(1.0, lines.voiced[k - 1] / expected);
            weight_sum += weight;
        }
    }
    return sum / weight_sum;
}

}  // namespace

double filled_between_multiples(const Lines& lines, std::size_t m)
{
    return filled_between(Amplitudes{lines}, m);
}

double least_filled(const Lines& lines)
{
    const Amplitudes amplitudes{lines};
    double least = 1.0;
    for (std::size_t m = 2; m <= kMostMultiple; ++m) {
        if (m > kSureMultiple && lines.count < 2 * m) break;
        least = std::min(least, filled_between(amplitudes, m));
    }
    return least;
}

}  // namespace holdwell
