#include "dsp/room_floor.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace holdwell {

namespace {

double share_of(Seconds hop, Seconds time_constant)
{
    return 1.0 - std::exp(-(hop / time_constant));
}

double greatest_rise(std::optional<Decibels> in_a_second, Seconds hop)
{
    if (!in_a_second) return std::numeric_limits<double>::infinity();
    return std::pow(10.0, in_a_second->value * hop.count() / 10.0);
}

}  // namespace

RoomFloor::RoomFloor(Seconds hop, const RoomFloorConfig& config)
    : lowest_{mean_square_of(config.lowest)}, loudest_start_{mean_square_of(config.loudest_start)},
      rise_ratio_{greatest_rise(config.rise, hop)},
      near_ratio_{std::pow(10.0, config.near_band.value / 10.0)}, down_{share_of(hop, config.down)},
      near_{share_of(hop, config.near)}, up_{share_of(hop, config.up)}, adopt_{share_of(
                                                                            hop, config.adopt)},
      hops_to_learn_{std::max(1, static_cast<int>(std::lround(config.learn / hop)))}, floor_{
                                                                                          lowest_}
{
}

RoomFloor::RoomFloor(Seconds hop, const RoomFloorConfig& config, double mean_square)
    : RoomFloor{hop, config}
{
    learnt_ = hops_to_learn_;
    floor_ = std::max(mean_square, lowest_);
}

double RoomFloor::pace_for(double mean_square, Evidence evidence) const noexcept
{
    if (mean_square * near_ratio_ < floor_) return down_;
    if (evidence == Evidence::part_of_room) return adopt_;
    if (evidence == Evidence::sounding) return 0.0;
    return mean_square < floor_ * near_ratio_ ? near_ : up_;
}

double RoomFloor::push(double mean_square, Evidence evidence) noexcept
{
    if (is_learning()) {
        const double known = learnt_ == 0 ? 0.0 : floor_ * learnt_;
        ++learnt_;
        floor_ = std::min((known + mean_square) / learnt_, loudest_start_);
    } else {
        const double next = floor_ + pace_for(mean_square, evidence) * (mean_square - floor_);
        floor_ = std::min(next, floor_ * rise_ratio_);
    }
    floor_ = std::max(floor_, lowest_);
    return floor_;
}

void RoomFloor::reset() noexcept
{
    learnt_ = 0;
    floor_ = lowest_;
}

}  // namespace holdwell
