#include "tests/support/phase_track.h"

#include <algorithm>

namespace holdwell::test {

double PhaseTrack::cycles_at(double grid_place) const
{
    const auto index = std::min(static_cast<std::size_t>(grid_place), cycles_.size() - 2);
    const double share = grid_place - static_cast<double>(index);
    return cycles_[index] + share * (cycles_[index + 1] - cycles_[index]);
}

std::optional<Hertz> PhaseTrack::f0_at(Seconds t, Seconds span) const
{
    if (cycles_.size() < 2) return std::nullopt;
    const double grid_hz = rate_.hz / kStep;
    const double last = static_cast<double>(cycles_.size() - 1);
    const double place = (t.count() - time_of(begin_, rate_).count()) * grid_hz;
    if (place < 0.0 || place > last) return std::nullopt;
    const double half = 0.5 * span.count() * grid_hz;
    const double from = std::max(0.0, place - half);
    const double to = std::min(last, place + half);
    return Hertz{(cycles_at(to) - cycles_at(from)) / (to - from) * grid_hz};
}

}  // namespace holdwell::test
