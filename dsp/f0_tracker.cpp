#include "dsp/f0_tracker.h"

#include <algorithm>
#include <cmath>

namespace holdwell {

F0Tracker::Decision F0Tracker::push(const CostedCandidate* candidates, std::size_t count,
                                    double unvoiced_cost) noexcept
{
    const TrackerSettings& s = settings_;
    double unvoiced = last_unvoiced_;
    for (std::size_t j = 0; j < last_count_; ++j) {
        unvoiced = std::min(unvoiced, last_[j].cost + s.price_of_change);
    }
    unvoiced += unvoiced_cost;

    std::array<CostedCandidate, kMost> now{};
    Decision decision;
    for (std::size_t i = 0; i < count; ++i) {
        double cheapest = last_unvoiced_ + s.price_of_change;
        for (std::size_t j = 0; j < last_count_; ++j) {
            const double octaves = std::abs(std::log2(candidates[i].f0.value / last_[j].f0.value));
            const double move = s.price_per_octave * std::max(0.0, octaves - s.free_octaves);
            cheapest = std::min(cheapest, last_[j].cost + std::min(move, s.dearest_move));
        }
        now[i] = {candidates[i].f0, cheapest + candidates[i].cost};
        if (!decision.best || now[i].cost < now[*decision.best].cost) decision.best = i;
    }
    decision.voiced = decision.best && now[*decision.best].cost < unvoiced;

    const double least = decision.voiced ? now[*decision.best].cost : unvoiced;
    for (std::size_t i = 0; i < count; ++i) now[i].cost = (now[i].cost - least) * s.memory;
    last_ = now;
    last_count_ = count;
    last_unvoiced_ = (unvoiced - least) * s.memory;
    return decision;
}

void F0Tracker::reset() noexcept
{
    last_count_ = 0;
    last_unvoiced_ = 0.0;
}

}  // namespace holdwell
