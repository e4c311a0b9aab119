#pragma once
// What the client is asked to do, as a value.

#include <optional>

#include "dsp/tuning.h"
#include "dsp/units.h"

namespace holdwell {

enum class DrillKind { warm_up_hold, ladder_hold, rising_glide, falling_glide, s_hold, z_hold };

// Hidden: only while holding.
enum class PitchLine { shown, hidden };

struct Drill {
    DrillKind kind{DrillKind::warm_up_hold};
    Note target{kF4};               // for a hold
    Cents band{100.0};              // 10 .. 300; near enough counts, to each side
    std::optional<Seconds> goal{};  // 1 .. 120 s; absent: as long as the breath is easy
    Seconds bridge{300ms};          // 0.1 .. 0.5 s; shorter gaps are interruptions
};

}  // namespace holdwell
