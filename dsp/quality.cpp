#include "dsp/quality.h"

#include <algorithm>
#include <cmath>

#include "dsp/cepstrum.h"
#include "dsp/cycles.h"

namespace holdwell {

namespace {

constexpr std::size_t kHopsPerBucket = 10;  // 0.1 s
// Of the beginning of a voice, and of its end, which is not known before it is over.
constexpr std::size_t kLeftOut = 3;
constexpr Seconds kShortest{2.0};
constexpr double kLeastSnrDb = 30.0;
// 3 dB more energy in the harmonics than beside them.
constexpr double kLeastLikeness = 0.66;
// 60 dB: products between samples are no truer than that.
constexpr double kMostLikeness = 1.0 - 1e-6;
constexpr double kLowestRateHz = 32'000.0;
// Alternating cycles: successive differences of periods or amplitudes correlate by -1; those of
// independent ones by -0.5.
constexpr double kAlternating = -0.85;
constexpr double kAlternatingFrom = 0.01;  // of the period or amplitude

// What has been summed over some cycles.
struct Sums {
    double periods{}, period_steps{};
    double amplitudes{}, amplitude_steps{};
    double product{}, energy{};
    double cpps{}, snr_db{};
    // Of successive steps: products and squares.
    double period_turns{}, period_squares{};
    double amplitude_turns{}, amplitude_squares{};
    double cycles{}, steps{}, peaks{}, hops{};

    Sums& operator+=(const Sums& o)
    {
        periods += o.periods;
        period_steps += o.period_steps;
        amplitudes += o.amplitudes;
        amplitude_steps += o.amplitude_steps;
        product += o.product;
        energy += o.energy;
        cpps += o.cpps;
        snr_db += o.snr_db;
        period_turns += o.period_turns;
        period_squares += o.period_squares;
        amplitude_turns += o.amplitude_turns;
        amplitude_squares += o.amplitude_squares;
        cycles += o.cycles;
        steps += o.steps;
        peaks += o.peaks;
        hops += o.hops;
        return *this;
    }
};

// Whether every second cycle is alike and its neighbour another.
bool alternates(const Sums& s)
{
    const double jitter = s.period_steps / s.periods;
    const double shimmer = s.amplitude_steps / s.amplitudes;
    return (jitter > kAlternatingFrom && s.period_turns < kAlternating * s.period_squares) ||
           (shimmer > kAlternatingFrom && s.amplitude_turns < kAlternating * s.amplitude_squares);
}

}  // namespace

struct QualityMeter::Meter {
    explicit Meter(const AnalysisConfig& c) : config{c}, cycles{c}, cepstrum{c} {}

    void add(const Cycle& cycle) noexcept;
    void close_bucket() noexcept;

    AnalysisConfig config;
    CycleReader cycles;
    CepstralPeak cepstrum;
    Sums bucket;
    std::array<Sums, kLeftOut> waiting{};  // may yet turn out to be the end
    std::size_t buckets{0};
    std::size_t hops{0};  // voiced, since the beginning
    Sums settled;
    Cycle last{};
    double last_period_step{0.0};
    double last_amplitude_step{0.0};
    bool two_steps{false};
};

QualityMeter::QualityMeter(const AnalysisConfig& config) : meter_{std::make_unique<Meter>(config)}
{
}
QualityMeter::~QualityMeter() = default;
QualityMeter::QualityMeter(QualityMeter&&) noexcept = default;
QualityMeter& QualityMeter::operator=(QualityMeter&&) noexcept = default;

void QualityMeter::reset() noexcept
{
    Meter& m = *meter_;
    m.cycles.reset();
    m.cepstrum.reset();
    m.bucket = m.settled = {};
    m.waiting = {};
    m.buckets = m.hops = 0;
    m.two_steps = false;
}

void QualityMeter::push(std::span<const float> hop, const FrameReading& reading) noexcept
{
    Meter& m = *meter_;
    m.cycles.push(hop, reading.f0);
    const auto peak = m.cepstrum.push(hop);
    while (const auto cycle = m.cycles.next()) m.add(*cycle);
    if (!reading.f0) return;
    if (peak) {
        m.bucket.cpps += *peak;
        m.bucket.peaks += 1.0;
    }
    m.bucket.snr_db += (reading.level - reading.noise_floor).value;
    m.bucket.hops += 1.0;
    if (++m.hops % kHopsPerBucket == 0) m.close_bucket();
}

void QualityMeter::Meter::add(const Cycle& cycle) noexcept
{
    bucket.periods += cycle.period;
    bucket.amplitudes += cycle.amplitude;
    bucket.cycles += 1.0;
    if (cycle.likeness) {
        bucket.product += cycle.likeness->product;
        bucket.energy += cycle.likeness->energy;
    }
    if (cycle.follows) {
        const double period_step = cycle.period - last.period;
        const double amplitude_step = cycle.amplitude - last.amplitude;
        bucket.period_steps += std::abs(period_step);
        bucket.amplitude_steps += std::abs(amplitude_step);
        bucket.steps += 1.0;
        if (two_steps) {
            bucket.period_turns += period_step * last_period_step;
            bucket.period_squares += period_step * period_step;
            bucket.amplitude_turns += amplitude_step * last_amplitude_step;
            bucket.amplitude_squares += amplitude_step * amplitude_step;
        }
        last_period_step = period_step;
        last_amplitude_step = amplitude_step;
    }
    two_steps = cycle.follows;
    last = cycle;
}

void QualityMeter::Meter::close_bucket() noexcept
{
    Sums& slot = waiting[buckets % kLeftOut];
    if (buckets >= 2 * kLeftOut) settled += slot;
    slot = bucket;
    bucket = {};
    ++buckets;
}

std::optional<Quality> QualityMeter::result() const noexcept
{
    const Sums& s = meter_->settled;
    const SampleRate rate = meter_->config.sample_rate;
    if (rate.hz < kLowestRateHz || s.periods < kShortest.count() * rate.hz) return std::nullopt;
    if (s.steps == 0.0 || s.energy == 0.0 || s.peaks == 0.0) return std::nullopt;
    if (s.snr_db / s.hops < kLeastSnrDb) return std::nullopt;
    const double likeness = std::min(s.product / s.energy, kMostLikeness);
    if (likeness < kLeastLikeness || alternates(s)) return std::nullopt;
    return Quality{.jitter_percent = 100.0 * (s.period_steps / s.steps) / (s.periods / s.cycles),
                   .shimmer_percent =
                       100.0 * (s.amplitude_steps / s.steps) / (s.amplitudes / s.cycles),
                   .hnr = Decibels{10.0 * std::log10(likeness / (1.0 - likeness))},
                   .cpps = Decibels{s.cpps / s.peaks}};
}

}  // namespace holdwell
