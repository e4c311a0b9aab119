#pragma once
// Where a hiss begins and ends, to a quarter of a hop.
//
// In:    the slices of one FricationReading a hop, in order.
// Out:   edges, as slice numbers with fractions.
// State: the last 1.28 s (at a hop of 10 ms); push allocates nothing.
//
// The amplitude of the hiss, the room's power taken off, is compared with its steady value near
// the edge. The line through its 70 % and its 30 % point is carried on outwards by as much as lies
// between them: a raised-cosine edge is then placed 11 % of its length inside its zero, a straight
// one 10 % outside (by calculation), at any level over the room.

#include <array>
#include <cstdint>

#include "dsp/frication.h"

namespace holdwell {

class HissEdges {
public:
    static constexpr std::int64_t kSlices = FricationReading::kSlices;

    struct Sought {
        double room{};         // mean square
        std::int64_t hop{};    // inside the sound, next to the edge
        std::int64_t reach{};  // hops: the edge lies no farther out than this
    };

    void push(const FricationReading& reading) noexcept;
    // Hops pushed so far; the newest is hops() - 1.
    std::int64_t hops() const noexcept { return hops_; }
    // The slice at which the sound around `sought.hop` begins, found going back from there; its
    // steady value is that of the 200 ms from there on, as far as they have been pushed.
    double onset(const Sought& sought) const noexcept;
    // The slice at which it ends, going on from there; steady value: the 200 ms before.
    double offset(const Sought& sought) const noexcept;

private:
    static constexpr std::int64_t kKept = 512;
    std::int64_t oldest() const noexcept;
    double energy(std::int64_t slice) const noexcept;  // over three slices around it
    double steady_energy(std::int64_t from, std::int64_t to) const noexcept;

    std::array<float, kKept> slices_{};
    std::int64_t hops_{0};
};

}  // namespace holdwell
