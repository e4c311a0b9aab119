#include "app/audio/stream_health.h"

#include <algorithm>

namespace holdwell {

StreamState StreamHealth::step(SteadyTime now, const StreamCounts& counts)
{
    if (counts.ended) return StreamState::dead;
    if (counts.delivered != seen_) {
        seen_ = counts.delivered;
        last_arrival_ = now;
    }
    const bool begun = seen_.value > 0;
    if (now - last_arrival_ > (begun ? kLongestStall : kLongestOpening)) return StreamState::dead;
    if (!begun) return StreamState::waiting;
    return duration_of(counts.zeros, rate_) > kMutedAfter ? StreamState::silent
                                                          : StreamState::flowing;
}

SampleCount DriftCheck::step(SteadyTime now, SampleCount delivered)
{
    if (delivered.value == 0) return {};
    if (!begin_) begin_ = now;
    const Seconds lag = (now - *begin_) - duration_of(delivered, rate_);
    smallest_ = std::min(smallest_.value_or(lag), lag);
    const SampleCount in_stretch{delivered.value - stretch_begin_.value};
    if (duration_of(in_stretch, rate_) < kStretch) return {};

    const Seconds rise = usual_ ? *smallest_ - *usual_ : Seconds{0.0};
    usual_ = smallest_;
    smallest_.reset();
    stretch_begin_ = delivered;
    return rise > kLeastLoss ? samples_in(rise, rate_) : SampleCount{};
}

}  // namespace holdwell
