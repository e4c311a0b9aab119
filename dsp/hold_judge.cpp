#include "dsp/hold_judge.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <vector>

namespace holdwell {

namespace {

constexpr int kHiddenHops = 3;           // a voice may be hidden for so long
constexpr Semitones kKept{1.0};          // distance from its own recent average
constexpr std::size_t kRecentHops = 50;  // half a second
constexpr Seconds kSustained{1.0};
constexpr double kShareOfShortHold = 0.9;
constexpr Seconds kUnsettled{0.3};  // left out at either end when steadiness is measured

double median_of(std::vector<double> values)
{
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

double standard_deviation_of(std::span<const double> values)
{
    const double n = static_cast<double>(values.size());
    const double mean = std::accumulate(values.begin(), values.end(), 0.0) / n;
    double sum = 0.0;
    for (const double v : values) sum += (v - mean) * (v - mean);
    return std::sqrt(sum / n);
}

// What white jitter (local, in percent) leaves of a reading, the mean of the cycles in 30 ms (the
// effective length of the window): periods deviate by sqrt(pi) / 2 of it (the mean absolute
// difference of normal deviates is 2 / sqrt(pi) of their own).
Cents left_by_jitter(double percent, Hertz f0)
{
    constexpr Seconds kAveraged{30ms};
    const double of_one_period = 0.01 * percent * 0.5 * std::sqrt(std::numbers::pi);
    const double of_mean = of_one_period / std::sqrt(f0.value * kAveraged.count());
    return {1200.0 * std::log2(1.0 + of_mean)};
}

// log2 of every voiced f0 between two instants.
std::vector<double> octaves_between(std::span<const ContourPoint> contour, SampleIndex from,
                                    SampleIndex to)
{
    std::vector<double> values;
    for (const ContourPoint& p : contour) {
        if (p.f0 && p.at >= from && p.at <= to) values.push_back(std::log2(p.f0->value));
    }
    return values;
}

// The run of a kept note that ends with the newest point.
class SteadyRun {
public:
    // True while the run goes on.
    bool push(const ContourPoint& p)
    {
        if (!p.f0) return ++hidden_ <= kHiddenHops;
        hidden_ = 0;
        const double here = 12.0 * std::log2(p.f0->value);
        const std::size_t n = std::min(recent_.size(), kRecentHops);
        double sum = 0.0;
        for (std::size_t i = recent_.size() - n; i < recent_.size(); ++i) sum += recent_[i];
        const bool kept = n == 0 || std::abs(here - sum / static_cast<double>(n)) <= kKept.value;
        recent_.push_back(here);
        return kept;
    }

private:
    std::vector<double> recent_;  // semitones
    int hidden_{0};
};

}  // namespace

Seconds longest_steady_run(std::span<const ContourPoint> contour, SampleRate rate)
{
    SampleCount longest{};
    SteadyRun run;
    std::optional<SampleIndex> begin;
    for (const ContourPoint& p : contour) {
        if (!run.push(p)) {
            begin.reset();
            run = SteadyRun{};
            run.push(p);
        }
        if (!p.f0) continue;
        if (!begin) begin = p.at;
        longest = std::max(longest, p.at - *begin);
    }
    return duration_of(longest, rate);
}

bool is_sustained(const Phonated& phonated, SampleRate rate)
{
    const Seconds whole = duration_of(phonated.offset - phonated.onset, rate);
    // Speech stops and starts more than once a second.
    if (static_cast<double>(phonated.interruptions.size()) > std::max(1.0, whole.count())) {
        return false;
    }
    const Seconds steady = longest_steady_run(phonated.contour, rate);
    return steady >= std::min(kSustained, kShareOfShortHold * whole);
}

bool is_like_a_machine(std::span<const ContourPoint> contour)
{
    constexpr std::size_t kReadings = 80;
    std::vector<double> run;  // cents over 1 Hz
    for (const ContourPoint& p : contour) {
        if (!p.f0) {
            run.clear();
            continue;
        }
        run.push_back(interval_between({1.0}, *p.f0).value);
        if (run.size() < kReadings) continue;
        const auto newest = std::span{run}.last(kReadings);
        if (standard_deviation_of(newest) <= left_by_jitter(0.06, *p.f0).value) return true;
    }
    return false;
}

int octaves_off(Hertz target, Hertz f0, Cents band)
{
    const double cents = interval_between(target, f0).value;
    const double octaves = std::round(cents / 1200.0);
    return std::abs(cents - 1200.0 * octaves) <= band.value ? static_cast<int>(octaves) : 0;
}

Hold measure_hold(const Phonated& phonated, const ListeningTask& task, const AnalysisConfig& config)
{
    const SampleRate rate = config.sample_rate;
    Hold hold;
    hold.onset = phonated.onset;
    hold.offset = phonated.offset;
    hold.ended_by = phonated.ended_by;
    hold.interruptions = phonated.interruptions;
    hold.fry = phonated.fry;
    hold.has_gap = phonated.has_gap;

    std::vector<double> levels;
    int hops_in_band = 0;
    for (const ContourPoint& p : phonated.contour) {
        if (!p.f0) continue;
        levels.push_back(p.level.value);
        if (task.target &&
            std::abs(interval_between(*task.target, *p.f0).value) <= task.band.value) {
            ++hops_in_band;
        }
    }
    if (!levels.empty()) {
        hold.level = Dbfs{median_of(levels)};
        hold.snr = hold.level - phonated.room;
    }
    const std::vector<double> all = octaves_between(phonated.contour, hold.onset, hold.offset);
    if (all.empty()) return hold;
    hold.f0_median = Hertz{std::exp2(median_of(all))};
    const SampleCount edge = samples_in(kUnsettled, rate);
    const std::vector<double> settled =
        octaves_between(phonated.contour, hold.onset + edge, hold.offset - edge);
    if (settled.size() > 1) hold.f0_sd = Cents{1200.0 * standard_deviation_of(settled)};
    if (!task.target) return hold;
    hold.deviation = interval_between(*task.target, *hold.f0_median);
    const Seconds whole = duration_of(hold.offset - hold.onset, rate);
    hold.in_band = std::min(whole, hops_in_band * config.hop);
    hold.octaves_off = octaves_off(*task.target, *hold.f0_median, task.band);
    return hold;
}

}  // namespace holdwell
