#include "app/ui/routine.h"

#include <algorithm>

namespace holdwell {
namespace {

constexpr Note kSetBoundary{57};  // A3: halfway between the two sets

const std::array<Note, 5>& ladder_near(Note note)
{
    return note < kSetBoundary ? kLowLadder : kHighLadder;
}

bool is_hold(DrillKind kind)
{
    return kind == DrillKind::warm_up_hold || kind == DrillKind::ladder_hold;
}

}  // namespace

DrillKind usual_kind_of(Note note)
{
    if (note == kF3 || note == kF4) return DrillKind::warm_up_hold;
    const auto& ladder = ladder_near(note);
    return std::ranges::find(ladder, note) != ladder.end() ? DrillKind::ladder_hold
                                                           : DrillKind::warm_up_hold;
}

Drill drill_after(const Drill& drill)
{
    if (!is_hold(drill.kind)) return drill;
    const auto& ladder = ladder_near(drill.target);
    const Note warm_up = drill.target < kSetBoundary ? kF3 : kF4;
    Drill next = drill;
    next.kind = DrillKind::ladder_hold;
    if (drill.kind == DrillKind::warm_up_hold && drill.target == warm_up) {
        next.target = ladder.front();
        return next;
    }
    const auto here = std::ranges::find(ladder, drill.target);
    if (drill.kind == DrillKind::ladder_hold && here != ladder.end() &&
        std::next(here) != ladder.end()) {
        next.target = *std::next(here);
        return next;
    }
    next.kind = DrillKind::warm_up_hold;
    next.target = warm_up;
    return next;
}

}  // namespace holdwell
