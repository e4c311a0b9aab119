#include "dsp/keeping_step.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace holdwell {

namespace {

constexpr double kBelowStrongest = 0.003;  // 25 dB
constexpr double kTwin = 0.1;              // a second line so strong at one place: it is blurred
constexpr double kBins = 0.8;              // as dsp/other_sounds.cpp
constexpr double kOfF0 = 0.012;
constexpr double kBlurredBins = 1.5;
constexpr double kTogether = 1.0;  // cents
constexpr double kNoiseBins = 0.5;
constexpr std::size_t kMost = 48;

// A line at a multiple of half f0.
struct Partial {
    int halves{};
    double off{};        // cents from that multiple
    double deviation{};  // cents: of `off`, by the noise about the line
    double power{};
};

struct Partials {
    std::array<Partial, kMost> all{};
    std::size_t count{0};
    std::span<const Partial> used() const { return {all.data(), count}; }
};

double strongest_of(std::span<const Line> lines)
{
    double strongest = 0.0;
    for (const Line& line : lines) strongest = std::max(strongest, line.power);
    return strongest;
}

std::optional<Partial> partial_at(const Line& line, Hertz f0, const StepLimits& limits)
{
    const auto halves = static_cast<int>(std::lround(2.0 * line.at.value / f0.value));
    if (halves < 1) return std::nullopt;
    const double place = 0.5 * halves;
    if (place * limits.uncertainty.value > kBlurredBins * limits.resolution.value)
        return std::nullopt;
    const Hertz exact{place * f0.value};
    const double within = kBins * limits.resolution.value + kOfF0 * line.at.value;
    if (std::abs(line.at.value - exact.value) > within) return std::nullopt;
    const Hertz noise{kNoiseBins * limits.resolution.value * std::sqrt(line.about / line.power)};
    return Partial{.halves = halves,
                   .off = interval_between(exact, line.at).value,
                   .deviation = interval_between(line.at, {line.at.value + noise.value}).value,
                   .power = line.power};
}

// One to a place: the strongest, unless another there is nearly as strong.
Partials partials_of(std::span<const Line> lines, Hertz f0, const StepLimits& limits)
{
    const double least = kBelowStrongest * strongest_of(lines);
    Partials found;
    double rival = 0.0;
    const auto drop_blurred = [&] {
        if (found.count > 0 && rival > kTwin * found.all[found.count - 1].power) --found.count;
        rival = 0.0;
    };
    int place = 0;
    for (const Line& line : lines) {
        const auto partial = line.power < least ? std::nullopt : partial_at(line, f0, limits);
        if (!partial || found.count == kMost) continue;
        if (partial->halves != place) {
            drop_blurred();
            place = partial->halves;
            found.all[found.count++] = *partial;
            continue;
        }
        Partial& kept = found.all[found.count - 1];
        rival = std::max(rival, std::min(kept.power, partial->power));
        if (partial->power > kept.power) kept = *partial;
    }
    drop_blurred();
    return found;
}

double median_off(std::span<const Partial> partials)
{
    std::array<double, kMost> sorted{};
    for (std::size_t i = 0; i < partials.size(); ++i) sorted[i] = partials[i].off;
    const auto end = sorted.begin() + static_cast<std::ptrdiff_t>(partials.size());
    std::sort(sorted.begin(), end);
    const std::size_t n = partials.size();
    return n % 2 == 1 ? sorted[n / 2] : 0.5 * (sorted[n / 2 - 1] + sorted[n / 2]);
}

double farthest_from(double step, std::span<const Partial> partials, double deviations)
{
    double farthest = 0.0;
    for (const Partial& p : partials)
        farthest = std::max(farthest, std::abs(p.off - step) - deviations * p.deviation);
    return farthest;
}

// Three in four of them are together.
bool keep_step(double step, std::span<const Partial> partials)
{
    const auto astray = std::ranges::count_if(partials, [step](const Partial& p) {
        return std::abs(p.off - step) > kTogether + 2.0 * p.deviation;
    });
    return 4 * static_cast<std::size_t>(astray) <= partials.size();
}

// How far one group is from the step of the other, which keeps it.
double apart(const Partials& moved, const Partials& kept)
{
    if (moved.count == 0 || kept.count < 2) return 0.0;
    const double step = median_off(kept.used());
    return keep_step(step, kept.used()) ? farthest_from(step, moved.used(), 3.0) : 0.0;
}

template <typename Belongs>
double shared_apart(std::span<const Partial> partials, Belongs belongs)
{
    Partials inside, outside;
    for (const Partial& p : partials) {
        Partials& group = belongs(p.halves) ? inside : outside;
        group.all[group.count++] = p;
    }
    return std::max(apart(inside, outside), apart(outside, inside));
}

}  // namespace

std::optional<Steps> steps_of(std::span<const Line> lines, Hertz f0,
                              const StepLimits& limits) noexcept
{
    const Partials found = partials_of(lines, f0, limits);
    if (found.count < 2) return std::nullopt;
    Partials whole;  // of f0 itself, without the half-way lines
    for (const Partial& p : found.used()) {
        if (p.halves % 2 == 0) whole.all[whole.count++] = p;
    }
    // An octave shares every second multiple; a fifth and a twelfth every third, of f0 or its half.
    const double octave = shared_apart(whole.used(), [](int h) { return h % 4 == 0; });
    const double fifth = shared_apart(found.used(), [](int h) { return h % 3 == 0; });
    return Steps{.farthest = {farthest_from(median_off(found.used()), found.used(), 2.0)},
                 .shared = {std::max(octave, fifth)}};
}

}  // namespace holdwell
