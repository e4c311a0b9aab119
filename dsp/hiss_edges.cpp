#include "dsp/hiss_edges.h"

#include <algorithm>
#include <cmath>

namespace holdwell {

namespace {

constexpr std::int64_t kSteadySlices = 80;  // 200 ms
constexpr double kMostCarriedOn = 16.0;     // slices (40 ms): slow edges are not extrapolated far
constexpr double kUpper = 0.7;
constexpr double kLower = 0.3;

// Where the line between two neighbours crosses `level`, as a share of the way from a to b.
double crossing(double a, double b, double level)
{
    const double step = b - a;
    return std::abs(step) < 1e-12 ? 0.5 : std::clamp((level - a) / step, 0.0, 1.0);
}

}  // namespace

void HissEdges::push(const FricationReading& reading) noexcept
{
    std::int64_t slice = hops_ * kSlices;
    for (const double mean_square : reading.hiss_slices)
        slices_[static_cast<std::size_t>(slice++ % kKept)] = static_cast<float>(mean_square);
    ++hops_;
}

std::int64_t HissEdges::oldest() const noexcept
{
    return std::max<std::int64_t>(0, hops_ * kSlices - kKept);
}

double HissEdges::energy(std::int64_t slice) const noexcept
{
    const std::int64_t from = std::max(oldest(), slice - 1);
    const std::int64_t to = std::min(hops_ * kSlices - 1, slice + 1);
    double sum = 0.0;
    for (std::int64_t i = from; i <= to; ++i)
        sum += static_cast<double>(slices_[static_cast<std::size_t>(i % kKept)]);
    return to < from ? 0.0 : sum / static_cast<double>(to - from + 1);
}

double HissEdges::steady_energy(std::int64_t from, std::int64_t to) const noexcept
{
    std::array<float, kSteadySlices> kept{};
    std::size_t n = 0;
    for (std::int64_t i = std::max(from, oldest()); i < std::min(to, hops_ * kSlices); ++i)
        if (n < kept.size()) kept[n++] = slices_[static_cast<std::size_t>(i % kKept)];
    if (n == 0) return 0.0;
    // Slices of noise scatter like a chi-square variable: their mean, not their median, is the
    // energy; the quarter at each end is left out so that edges and clicks do not count.
    std::sort(kept.begin(), kept.begin() + static_cast<std::ptrdiff_t>(n));
    double sum = 0.0;
    for (std::size_t i = n / 4; i < n - n / 4; ++i) sum += static_cast<double>(kept[i]);
    return sum / static_cast<double>(n - 2 * (n / 4));
}

double HissEdges::onset(const Sought& sought) const noexcept
{
    const std::int64_t first = sought.hop * kSlices;
    const double steady = steady_energy(first, first + kSteadySlices) - sought.room;
    const auto amplitude = [&](std::int64_t i) {
        return std::sqrt(std::max(0.0, energy(i) - sought.room) / std::max(steady, 1e-15));
    };
    std::int64_t i = first;
    const std::int64_t newest = hops_ * kSlices - 1;
    const std::int64_t farthest_in = std::min(newest, first + kSteadySlices);
    while (i < farthest_in && amplitude(i) < kUpper) ++i;
    const std::int64_t earliest = std::max(oldest(), first - sought.reach * kSlices);
    while (i > earliest && amplitude(i - 1) >= kUpper) --i;
    const double upper =
        static_cast<double>(i) - 1.0 + crossing(amplitude(i - 1), amplitude(i), kUpper);
    while (i > earliest && amplitude(i - 1) >= kLower) --i;
    const double lower =
        static_cast<double>(i) - 1.0 + crossing(amplitude(i - 1), amplitude(i), kLower);
    // Slice i is about its middle: half a slice later than its number.
    return lower + 0.5 - std::min(upper - lower, kMostCarriedOn);
}

double HissEdges::offset(const Sought& sought) const noexcept
{
    const std::int64_t last = (sought.hop + 1) * kSlices - 1;
    const double steady = steady_energy(last - kSteadySlices, last) - sought.room;
    const auto amplitude = [&](std::int64_t i) {
        return std::sqrt(std::max(0.0, energy(i) - sought.room) / std::max(steady, 1e-15));
    };
    std::int64_t i = last;
    while (i > std::max(oldest(), last - kSteadySlices) && amplitude(i) < kUpper) --i;
    const std::int64_t newest = hops_ * kSlices - 1;
    const std::int64_t latest = std::min(newest, last + sought.reach * kSlices);
    while (i < latest && amplitude(i + 1) >= kUpper) ++i;
    const double upper = static_cast<double>(i) + crossing(amplitude(i), amplitude(i + 1), kUpper);
    while (i < latest && amplitude(i + 1) >= kLower) ++i;
    const double lower = static_cast<double>(i) + crossing(amplitude(i), amplitude(i + 1), kLower);
    return lower + 0.5 + std::min(lower - upper, kMostCarriedOn);
}

}  // namespace holdwell
