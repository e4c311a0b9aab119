#include "dsp/loudness.h"

#include <cmath>

namespace holdwell {

namespace {

constexpr DbSpl kSoftestReading{30.0};
constexpr DbSpl kLoudestReading{130.0};
constexpr Metres kNearest{0.03};
constexpr Metres kFarthest{3.0};
constexpr Dbfs kNothingHeard{-90.0};

}  // namespace

Decibels distance_gain(Metres from, Metres to)
{
    return {20.0 * std::log10(from.value / to.value)};
}

std::optional<SplCalibration> SplCalibration::from(const ReferenceReading& r)
{
    const bool plausible = r.meter >= kSoftestReading && r.meter <= kLoudestReading &&
                           r.distance >= kNearest && r.distance <= kFarthest &&
                           r.level >= kNothingHeard;
    if (!plausible || r.weighting == Weighting::a) return std::nullopt;
    return SplCalibration{r.meter.value - r.level.value, r.distance, r.weighting};
}

DbSpl SplCalibration::level_at(Dbfs level, Metres distance) const
{
    return {level_of(level).value + distance_gain(distance_, distance).value};
}

LoudnessGuard::LoudnessGuard(Dbfs asked, Seconds hop, const LoudnessConfig& config)
    : config_{config}, asked_{asked}, pace_{1.0 - std::exp(-(hop / config.smooth))},
      hops_needed_{static_cast<int>(std::lround(config.after / hop))}
{
}

bool LoudnessGuard::push(Dbfs level, Voice voice) noexcept
{
    if (voice == Voice::silent) return much_louder_;
    const double power = mean_square_of(level);
    power_ = power_ ? *power_ + pace_ * (power - *power_) : power;
    const Dbfs smoothed = holdwell::level_of(*power_);
    if (smoothed < asked_ + config_.leave) much_louder_ = false;
    hops_above_ = smoothed >= asked_ + config_.enter ? hops_above_ + 1 : 0;
    if (hops_above_ >= hops_needed_) much_louder_ = true;
    return much_louder_;
}

void LoudnessGuard::reset() noexcept
{
    power_.reset();
    hops_above_ = 0;
    much_louder_ = false;
}

}  // namespace holdwell
