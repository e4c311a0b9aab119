#include "dsp/level.h"

#include <algorithm>
#include <cmath>

namespace holdwell {

namespace {

constexpr Hertz kBandBegin{70.0};
constexpr Hertz kBandEnd{8000.0};
constexpr float kFullScale = 0.999f;
constexpr int kClippedRun = 3;

}  // namespace

VoiceBandLevel::VoiceBandLevel(const AnalysisConfig& config)
    : config_{config}, high_pass_{BiquadCascade<1>::high_pass(kBandBegin, config.sample_rate)},
      low_pass_{BiquadCascade<1>::low_pass(std::min(kBandEnd, Hertz{0.45 * config.sample_rate.hz}),
                                           config.sample_rate)}
{
}

LevelReading VoiceBandLevel::push(std::span<const float> hop) noexcept
{
    LevelReading reading;
    const std::size_t n = hop.size();
    double hop_sum = 0.0;
    for (std::size_t q = 0; q < 4; ++q) {
        const std::span<const float> quarter = hop.subspan(q * n / 4, (q + 1) * n / 4 - q * n / 4);
        double sum = 0.0;
        for (const float x : quarter) {
            const double v = low_pass_.push(high_pass_.push(static_cast<double>(x)));
            sum += v * v;
        }
        reading.quarter_power[q] = static_cast<float>(sum / static_cast<double>(quarter.size()));
        hop_sum += sum;
    }
    high_pass_.flush();
    low_pass_.flush();
    recent_[next_] = hop_sum / static_cast<double>(n);
    reading.hop = level_of(recent_[next_]);
    next_ = (next_ + 1) % recent_.size();
    double window_sum = 0.0;
    for (const double m : recent_) window_sum += m;
    reading.window = level_of(window_sum / static_cast<double>(recent_.size()));
    reading.clipped_samples = count_clipped(hop);
    return reading;
}

int VoiceBandLevel::count_clipped(std::span<const float> hop) noexcept
{
    int clipped = 0;
    for (const float x : hop) {
        run_at_full_scale_ = std::abs(x) >= kFullScale ? run_at_full_scale_ + 1 : 0;
        if (run_at_full_scale_ == kClippedRun) clipped += kClippedRun;
        if (run_at_full_scale_ > kClippedRun) ++clipped;
    }
    return clipped;
}

void VoiceBandLevel::reset() noexcept { *this = VoiceBandLevel{config_}; }

}  // namespace holdwell
