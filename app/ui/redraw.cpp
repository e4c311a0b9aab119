#include "app/ui/redraw.h"

#include <algorithm>

namespace holdwell {

bool Redraw::is_due(Seconds now, View view) const
{
    if (asked_for_ > 0) return now >= soonest_;
    return view == View::changed && now >= next_heard_;
}

Seconds Redraw::until_due(Seconds now, View view) const
{
    if (asked_for_ > 0) return std::max(Seconds{0.0}, soonest_ - now);
    if (view == View::changed) return std::max(Seconds{0.0}, next_heard_ - now);
    return kLongestSleep;
}

void Redraw::on_drawn(Seconds now)
{
    asked_for_ = std::max(0, asked_for_ - 1);
    soonest_ = now + kBetweenDone;
    const bool keeps_pace = now >= next_heard_ && now - next_heard_ < kBetweenHeard;
    next_heard_ =
        keeps_pace ? std::max(next_heard_ + kBetweenHeard, soonest_) : now + kBetweenHeard;
}

}  // namespace holdwell
