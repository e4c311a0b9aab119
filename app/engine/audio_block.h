#pragma once
// What crosses from the audio thread: a few samples and where they belong in the stream.

#include <array>
#include <cstddef>
#include <type_traits>

#include "dsp/units.h"

namespace holdwell {

struct AudioBlock {
    static constexpr std::size_t kCapacity = 480;
    // A loss that a source notices at all it has told of once so much more has been heard.
    static constexpr Seconds kLossKnownWithin{1.2};

    SampleIndex begin{};   // counts every sample the device delivered, kept or lost
    std::size_t count{0};  // samples used
    // What was lost before the block may have been missing this much earlier: it was noticed late.
    SampleCount noticed_late{};
    std::array<float, kCapacity> samples{};  // mono, -1 .. +1
};
static_assert(std::is_trivially_copyable_v<AudioBlock>);

}  // namespace holdwell
