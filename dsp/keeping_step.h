#pragma once
// Do the lines of a spectrum keep step, as the partials of one voice do?
//
// All partials of one voice come from the same cycles: whatever its f0 does, they are at its
// multiples (in a rough voice at its halves as well), to within a cent. A second voice at the
// octave, fifth or twelfth has its partials nearly at the same places; but its f0 is never exactly
// in that ratio, nor does it move along. Where partials of both fall together the sum beats, and
// its line strays by 6 cents and more; where only one voice has a partial, it does not.
//
// In:    lines of a spectrum in order of frequency, and f0.
// Out:   by how much the line that is farthest from the common step is out of it. And the same for
//        lines that two voices would share, while those that one of them has alone keep step to a
//        cent: a room's echo puts all lines out of step, without regard to which would be shared.
// What the noise about a line makes uncertain of its place is taken off (twice its deviation, or
// three times). Chosen by us, on generated voices (tests/dsp/other_sounds_test.cpp).

#include <optional>
#include <span>

#include "dsp/units.h"

namespace holdwell {

struct Line {
    Hertz at{};
    double power{};
    double about{0.0};  // median power of the bins about it, or the room's in its place
};

struct Steps {
    Cents farthest{};  // of any line from the median of all
    Cents shared{};    // of a line that would be shared, while the others keep step; else 0
};

struct StepLimits {
    Hertz resolution{};   // of the spectrum's bins
    Hertz uncertainty{};  // of f0 itself, as it moves: partials it would blur are left out
};

// Absent when fewer than two lines belong to f0.
std::optional<Steps> steps_of(std::span<const Line> lines, Hertz f0,
                              const StepLimits& limits) noexcept;

}  // namespace holdwell
