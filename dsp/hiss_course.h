#pragma once
// The course of a hiss's level since it began: did it fade as the system's noise suppression
// makes a steady hiss fade?
//
// In:    the level of one hop after another.
// Out:   a suspicion. A level that falls while the mouth goes on cannot be told from a mouth that
//        stops slowly, so it is never more than that.
// State: the first 6 s, a level every 100 ms; no allocation.

#include <array>
#include <cstddef>

#include "dsp/units.h"

namespace holdwell {

class HissCourse {
public:
    explicit HissCourse(Seconds hop);

    void begin() noexcept;
    void push(Dbfs level) noexcept;
    // "Steady at first, then down by 12 dB or more to within 10 dB of the room (or by 30 dB), in
    // 0.4 to 3 s, never turning up again, and all over within 1 to 5 s of the beginning."
    bool fades_like_suppression(Dbfs room) const noexcept;

private:
    static constexpr std::size_t kSteps = 60;
    int hops_per_step_;
    std::array<float, kSteps> levels_{};  // dBFS
    std::size_t steps_{0};
    bool overflowed_{false};
    double power_sum_{0.0};
    int hops_in_step_{0};
};

}  // namespace holdwell
