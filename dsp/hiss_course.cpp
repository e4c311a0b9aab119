#include "dsp/hiss_course.h"

#include <algorithm>
#include <cmath>

namespace holdwell {

namespace {

// All chosen by us. A person who stops an /s/ takes 50 to 200 ms; suppression adapts over a second.
constexpr std::size_t kSteadyUntil = 5;   // steps: the level of 0.2 .. 0.5 s is the steady one
constexpr std::size_t kShortestFade = 4;  // steps
constexpr std::size_t kLongestFade = 30;
constexpr float kLeastFall = 12.0f;   // dB
constexpr float kNearRoom = 10.0f;    // dB over it
constexpr float kFarDown = 30.0f;     // dB: as good as in the room
constexpr float kStartOfFall = 3.0f;  // dB below the steady level
constexpr float kTurnsUp = 1.5f;      // dB from one step to the next: more is no smooth fade

}  // namespace

HissCourse::HissCourse(Seconds hop)
    : hops_per_step_{std::max(1, static_cast<int>(std::lround(Seconds{100ms} / hop)))}
{
}

void HissCourse::begin() noexcept
{
    steps_ = 0;
    overflowed_ = false;
    power_sum_ = 0.0;
    hops_in_step_ = 0;
}

void HissCourse::push(Dbfs level) noexcept
{
    power_sum_ += mean_square_of(level);
    if (++hops_in_step_ < hops_per_step_) return;
    const double power = power_sum_ / hops_in_step_;
    power_sum_ = 0.0;
    hops_in_step_ = 0;
    if (steps_ == kSteps)
        overflowed_ = true;
    else
        levels_[steps_++] = static_cast<float>(level_of(power).value);
}

bool HissCourse::fades_like_suppression(Dbfs room) const noexcept
{
    if (overflowed_ || steps_ < kSteadyUntil + kShortestFade) return false;
    const float steady = (levels_[2] + levels_[3] + levels_[4]) / 3.0f;
    const float near_room = std::max(static_cast<float>(room.value) + kNearRoom, steady - kFarDown);

    std::size_t fall = kSteadyUntil;
    while (fall < steps_ && levels_[fall] > steady - kStartOfFall) ++fall;
    std::size_t end = fall;
    while (end < steps_ && levels_[end] > near_room) {
        if (end > fall && levels_[end] > levels_[end - 1] + kTurnsUp) return false;
        ++end;
    }
    if (end == steps_) return false;  // it did not come near the room
    // The step before `fall` may hold part of it, so may the one at `end`.
    const std::size_t length = end - fall + 1;
    const bool deep = steady - levels_[end] >= kLeastFall;
    return deep && length >= kShortestFade && length <= kLongestFade && end <= 50;
}

}  // namespace holdwell
