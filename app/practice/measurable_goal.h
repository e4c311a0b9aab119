#pragma once
// A goal that can be measured, as a value: what a therapist writes in the chart. How the record
// stands to it: app/practice/goal_builder.h.

#include <optional>
#include <string>

#include "app/practice/drill.h"
#include "app/practice/identity.h"
#include "dsp/units.h"

namespace holdwell {

enum class OnsetAsked { any, easy };
enum class Cueing { independently, with_cue };

struct MeasurableGoal {
    DrillKind kind{DrillKind::ladder_hold};  // warm-up hold or ladder hold
    Note note{kF4};
    std::string sound{};  // "/o/"; up to 40 letters; empty: "the practice sound"
    Cents band{100.0};    // 10 .. 300, to each side
    Seconds hold{10.0};   // 1 .. 120 s, inside the band
    OnsetAsked onset{OnsetAsked::any};
    int met{3};     // 1 .. trials
    int trials{4};  // 1 .. 20, of one day
    int days{3};    // 1 .. 30, consecutive days on which it is practised
    Cueing cueing{Cueing::independently};
    std::optional<Date> by{};
    bool operator==(const MeasurableGoal&) const = default;
};

// One that the therapist set for a client. That it is met is read from the record and kept nowhere,
// so that it is never said of a record that no longer shows it. One that was withdrawn stays, as
// the history of what was aimed at.
struct ClientGoal {
    Id id{};
    MeasurableGoal goal{};
    Date set_on{};
    std::optional<Date> withdrawn_on{};  // absent: it stands
    bool operator==(const ClientGoal&) const = default;
};

}  // namespace holdwell
