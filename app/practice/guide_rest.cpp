// The rest that a whole breath asks for: whatever was pressed, the next one begins after it.

#include "app/practice/guide.h"

#include <algorithm>

namespace holdwell {

void Guide::note_breath()
{
    const PlannedTrial* planned = current();
    if (phase_ == GuidePhase::sounding && planned != nullptr && planned->is_maximal &&
        elapsed_ - voice_at_ >= kBreathSpent)
        breath_ended_ = elapsed_;
}

Seconds Guide::rest_owed() const
{
    return breath_ended_ ? *breath_ended_ + setup_.rest - elapsed_ : Seconds{};
}

bool Guide::rests_first()
{
    constexpr Seconds kRounding{0.001};  // the same span was summed in other steps
    const PlannedTrial* planned = current();
    if (planned == nullptr || !planned->is_maximal || rest_owed() < kRounding) return false;
    if (is_judging(phase_)) wishes_.emplace_back(StopListening{});
    begin_rest(rest_owed());
    return true;
}

// Heard just after a key was pressed: where another trial had been begun it waits for its breath,
// and the one that was to be begun again is done.
bool Guide::was_late(std::size_t planned)
{
    if (is_judging(phase_)) return rests_first();
    if (phase_ != GuidePhase::resting || planned != at_) return false;
    repeats_ = false;
    at_ = planned + 1;
    return true;
}

// The trial shown stays what it was.
void Guide::set_aside(std::size_t planned, const Measures& measures)
{
    const GuidePhase before = phase_;
    set_aside_ = SetAside{planned, std::get<HoldMeasures>(measures)};
    // If it was hers, she has held a whole breath.
    begin_rest(setup_.trials[planned].is_maximal ? std::max(kMachineRest, setup_.rest)
                                                 : kMachineRest);
    go_on_resting_unless_aside(before);
}

void Guide::keep_what_was_set_aside()
{
    SetAside kept = *std::exchange(set_aside_, std::nullopt);
    kept.measures.doubt.reset();
    store(kept.planned, kept.measures);
    done_[kept.planned] = true;
    move_on_from(kept.planned);
}

}  // namespace holdwell
