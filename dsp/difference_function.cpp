#include "dsp/difference_function.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dsp/vector_sums.h"

namespace holdwell {

namespace {

constexpr double kLeastPeriodic = 0.8;  // minima shallower than this are noise
// Longer periods explain a frame at least as well as shorter ones: the price of an octave in the
// order of candidates. Only the order: the decision is the tracker's.
constexpr double kPricePerOctave = 0.25;

constexpr std::size_t kLagsAtOnce = 8 * kLanes;

// Half-way between samples: a sinc in a Hann window.
template <std::size_t kReach>
std::array<float, kReach> half_way_weights()
{
    std::array<double, kReach> weights;
    double sum = 0.0;
    for (std::size_t i = 0; i < kReach; ++i) {
        const double turn = std::numbers::pi * (static_cast<double>(i) + 0.5);
        const double window = 0.5 + 0.5 * std::cos(turn / static_cast<double>(kReach));
        weights[i] = window * std::sin(turn) / turn;
        sum += 2.0 * weights[i];
    }
    std::array<float, kReach> result;
    std::ranges::transform(weights, result.begin(),
                           [&](double w) { return static_cast<float>(w / sum); });
    return result;
}

inline double normalised(double both, float correlation)
{
    return both > 1e-12 ? (both - 2.0 * static_cast<double>(correlation)) / both : 1.0;
}

}  // namespace

DifferenceFunction::DifferenceFunction(SampleRate rate, std::size_t frame_length, F0Range range)
    : rate_hz_{rate.hz}, range_{range}, n_{frame_length},
      lag_count_{2 * std::min(n_ - 8, static_cast<std::size_t>(rate.hz / range.lowest.value) + 2)},
      padded_(n_ + lag_count_ / 2 + kReach + 2 + kLagsAtOnce),
      correlation_(kReach + padded_.size() - n_),
      between_(lag_count_ / 2 + 1), interpolator_{half_way_weights<kReach>()}, energy_(n_ + 1),
      overlap_energy_(between_.size() + 1), difference_(2 * between_.size())
{
}

// In every lane a lag of its own.
HOLDWELL_WIDE void DifferenceFunction::correlate(std::span<const float> x) noexcept
{
    std::copy(x.begin(), x.end(), padded_.begin());
    const std::size_t lags = between_.size() + kReach;
    for (std::size_t first = 0; first < lags; first += kLagsAtOnce) {
        std::array<float, kLagsAtOnce> sum{};
        for (std::size_t i = 0; i + first < n_; ++i) {
            const float here = padded_[i];
            const float* later = &padded_[i + first];
            for (std::size_t lag = 0; lag < kLagsAtOnce; ++lag) sum[lag] += here * later[lag];
        }
        std::ranges::copy(sum, &correlation_[kReach + first]);
    }
    for (std::size_t lag = 1; lag <= kReach; ++lag) {
        correlation_[kReach - lag] = correlation_[kReach + lag];
    }
}

HOLDWELL_WIDE void DifferenceFunction::interpolate() noexcept
{
    std::fill(between_.begin(), between_.end(), 0.0f);
    for (std::size_t i = 0; i < kReach; ++i) {
        const float weight = interpolator_[i];
        const float* before = &correlation_[kReach - i];
        const float* after = &correlation_[kReach + 1 + i];
        for (std::size_t lag = 0; lag < between_.size(); ++lag) {
            between_[lag] += weight * (before[lag] + after[lag]);
        }
    }
}

void DifferenceFunction::sum_energy(std::span<const float> x) noexcept
{
    energy_[0] = 0.0;
    for (std::size_t i = 0; i < n_; ++i) {
        energy_[i + 1] = energy_[i] + static_cast<double>(x[i]) * static_cast<double>(x[i]);
    }
    for (std::size_t lag = 0; lag < overlap_energy_.size(); ++lag) {
        overlap_energy_[lag] = energy_[n_ - lag] + energy_[n_] - energy_[lag];
    }
}

HOLDWELL_WIDE void DifferenceFunction::fill_difference() noexcept
{
    for (std::size_t lag = 0; lag < between_.size(); ++lag) {
        const double here = overlap_energy_[lag];
        const double half_way = 0.5 * (here + overlap_energy_[lag + 1]);
        difference_[2 * lag] = normalised(here, correlation_[kReach + lag]);
        difference_[2 * lag + 1] = normalised(half_way, between_[lag]);
    }
}

PeriodCandidates DifferenceFunction::find_candidates(std::span<const float> x) noexcept
{
    correlate(x);
    interpolate();
    sum_energy(x);
    fill_difference();
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
