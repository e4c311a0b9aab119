#include "app/ui/ink_line.h"

#include <cmath>

namespace holdwell {
namespace {

// The mean of two neighbours; across a jump the newer one, for no voice was ever between them.
std::optional<Cents> joined(const std::optional<Cents>& earlier, const std::optional<Cents>& later)
{
    constexpr double kJump = 300.0;
    if (!earlier) return later;
    if (!later || std::abs(earlier->value - later->value) > kJump) return later ? later : earlier;
    return Cents{(earlier->value + later->value) / 2.0};
}

}  // namespace

void InkLine::push(Seconds since_onset, Cents deviation)
{
    if (since_onset < Seconds{0.0} || !std::isfinite(deviation.value)) return;
    // A hair's breadth, so that a time that is a whole number of slots falls into its own.
    constexpr double kRounding = 1e-6;
    const auto slot_now = [&] {
        return static_cast<std::size_t>(since_onset / slot_length_ + kRounding);
    };
    while (slot_now() >= kMostPoints) join_neighbours();
    const std::size_t slot = slot_now();
    if (slot + 1 < slots_.size()) return;
    if (slot >= slots_.size()) slots_.resize(slot + 1);
    slots_[slot] = joined(slots_[slot], deviation);
}

void InkLine::reset()
{
    slots_.clear();
    slot_length_ = 10ms;
}

void InkLine::join_neighbours()
{
    std::vector<std::optional<Cents>> wider((slots_.size() + 1) / 2);
    for (std::size_t i = 0; i < wider.size(); ++i) {
        const auto& later = 2 * i + 1 < slots_.size() ? slots_[2 * i + 1] : std::optional<Cents>{};
        wider[i] = joined(slots_[2 * i], later);
    }
    slots_ = std::move(wider);
    slot_length_ *= 2.0;
}

}  // namespace holdwell
