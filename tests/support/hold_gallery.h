#pragma once
// Sustained notes to time, and sounds that must not be timed, each made afresh from a seed.
//
// True edges are where the voice's ramps pass 20 dB below its full strength (TrueSound): the
// silent end of a ramp cannot be heard in any room.

#include <functional>
#include <string>
#include <vector>

#include "tests/support/random.h"
#include "tests/support/signal_script.h"

namespace holdwell::test {

struct TrueHold {
    Seconds onset;
    Seconds offset;
    std::vector<Seconds> gaps;  // lengths of the interruptions inside it
};

// Voices less than `bridge` apart are one hold, unless a breath was taken between; shorter than a
// second are none.
std::vector<TrueHold> true_holds_of(const ScriptedTake& take, Seconds bridge);

struct HoldCategory {
    std::string name;
    std::function<ScriptedTake(SignalScript script, Random& random)> make;
};

// One hold of 2 to 10 s (15 to 25 s in one kind, two where a breath is taken) in each, at a
// signal-to-noise ratio of 20 dB or better.
const std::vector<HoldCategory>& hold_categories();
// No hold of a second or more in any.
const std::vector<HoldCategory>& not_hold_categories();

ScriptedTake make_take(const HoldCategory& category, int index);

}  // namespace holdwell::test
