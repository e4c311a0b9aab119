#include "dsp/difference_function.h"

#include <algorithm>
#include <cmath>

namespace holdwell {

namespace {

constexpr double kLeastPeriodic = 0.8;  // minima shallower than this are noise
// Longer periods explain a frame at least as well as shorter ones: the price of an octave in the
// order of candidates. Only the order: the decision is the tracker's.
constexpr double kPricePerOctave = 0.25;

std::size_t transform_size(std::size_t samples)
{
    std::size_t size = 1;
    while (size < samples) size *= 2;
    return size;
}

}  // namespace

DifferenceFunction::DifferenceFunction(SampleRate rate, std::size_t frame_length, F0Range range)
    : rate_hz_{rate.hz}, range_{range}, n_{frame_length},
      lag_count_{2 * std::min(n_ - 8, static_cast<std::size_t>(rate.hz / range.lowest.value) + 2)},
      forward_{transform_size(n_ + lag_count_ / 2 + 2)}, inverse_{2 * forward_.size()},
      padded_(forward_.size()), spectrum_(forward_.size()), fine_spectrum_(inverse_.size()),
      correlation_(inverse_.size()), difference_(lag_count_ + 2), energy_(n_ + 1)
{
}

void DifferenceFunction::fill_difference(std::span<const float> x) noexcept
{
    std::fill(padded_.begin(), padded_.end(), 0.0f);
    std::copy(x.begin(), x.end(), padded_.begin());
    forward_.forward(padded_, spectrum_);
    std::fill(fine_spectrum_.begin(), fine_spectrum_.end(), 0.0f);
    for (std::size_t k = 0; k < forward_.size() / 2; ++k) {
        fine_spectrum_[k] = power_of_bin(spectrum_, k);
    }
    inverse_.inverse(fine_spectrum_, correlation_);
    energy_[0] = 0.0;
    for (std::size_t i = 0; i < n_; ++i) {
        energy_[i + 1] = energy_[i] + static_cast<double>(x[i]) * static_cast<double>(x[i]);
    }
    // The inverse transform is scaled by 1 / (2 N): twice that for the half-sample grid.
    for (std::size_t lag = 0; lag < difference_.size(); ++lag) {
        const std::size_t whole = lag / 2;
        const std::size_t overlap = n_ - whole;
        double both = energy_[overlap] + energy_[n_] - energy_[whole];
        if (lag % 2 == 1) {  // between two whole lags: the mean of their overlaps
            const double next = energy_[overlap - 1] + energy_[n_] - energy_[whole + 1];
            both = 0.5 * (both + next);
        }
        const double r = 2.0 * static_cast<double>(correlation_[lag]);
        difference_[lag] = both > 1e-12 ? (both - 2.0 * r) / both : 1.0;
    }
}

PeriodCandidates DifferenceFunction::find_candidates(std::span<const float> x) noexcept
{
    fill_difference(x);
    struct Ranked {
        PeriodCandidate candidate;
        double cost;
    };
    std::array<Ranked, kMostCandidates> best{};
    std::size_t count = 0;
    const auto shortest = static_cast<std::size_t>(2.0 * rate_hz_ / range_.highest.value);
    for (std::size_t lag = std::max<std::size_t>(2, shortest - 1); lag <= lag_count_; ++lag) {
        const double before = difference_[lag - 1];
        const double here = difference_[lag];
        const double after = difference_[lag + 1];
        if (!(here < before && here <= after && here < kLeastPeriodic)) continue;
        const double curvature = before - 2.0 * here + after;
        const double offset = curvature > 0.0 ? 0.5 * (before - after) / curvature : 0.0;
        const double tau = 0.5 * (static_cast<double>(lag) + offset);
        const double depth = std::max(0.0, here - 0.25 * (before - after) * offset);
        const Hertz f0{rate_hz_ / tau};
        if (f0 < Hertz{0.98 * range_.lowest.value} || f0 > Hertz{1.02 * range_.highest.value}) {
            continue;
        }
        Ranked found{{f0, depth}, std::log(depth + 0.06) + kPricePerOctave * std::log2(tau)};
        if (count == kMostCandidates && found.cost >= best[count - 1].cost) continue;
        if (count < kMostCandidates) ++count;
        std::size_t place = count - 1;
        for (; place > 0 && best[place - 1].cost > found.cost; --place) {
            best[place] = best[place - 1];
        }
        best[place] = found;
    }
    PeriodCandidates result;
    result.count = count;
    for (std::size_t i = 0; i < count; ++i) result.list[i] = best[i].candidate;
    return result;
}

}  // namespace holdwell
