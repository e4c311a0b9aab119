#pragma once
// Kinds of recording on which an f0 estimator is judged, each made afresh from a seed, and the
// figures to reach on each.
//
// The kinds are those on which estimators are known to differ or to fail: natural perturbation,
// noise, movement, weak or misleading harmonics, low level. Every even file is at 48 kHz, every
// odd one at 44.1 kHz.

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "tests/support/signal_script.h"

namespace holdwell::test {

// Upper bounds on errors, a lower bound on `usable_percent`; absent: not asked.
struct PitchGoal {
    std::optional<double> median_cents;
    std::optional<double> p95_cents;
    std::optional<double> gross_percent;
    std::optional<double> usable_percent;
};

struct PitchCategory {
    std::string name;
    PitchGoal goal;
    std::function<ScriptedTake(SignalScript script, Random& random)> make;
};

const std::vector<PitchCategory>& pitch_categories();

// Recordings without any voice: every voiced frame is an error.
struct VoicelessCategory {
    std::string name;
    std::function<ScriptedTake(SignalScript script, Random& random)> make;
};
const std::vector<VoicelessCategory>& voiceless_categories();

// The file of a category with this index; the same whenever it is asked for.
ScriptedTake make_take(const PitchCategory& category, int index);
ScriptedTake make_take(const VoicelessCategory& category, int index);

// Vowels between breaths and hisses in a quiet room: for voicing decisions.
ScriptedTake make_voicing_take(int index);
// Eight abrupt beginnings after silence: for latency.
ScriptedTake make_onset_take(int index);
// A smooth rise and fall of harmonics, at most 1.6 octaves a second: for a method's delay.
ScriptedTake make_delay_take(int index);

}  // namespace holdwell::test
