#pragma once
// The order of drills that N walks through, and the notes offered first: the warm-up on F and the
// five notes C to G, in a lower and a higher set.

#include <array>

#include "app/practice/drill.h"

namespace holdwell {

inline constexpr std::array kWarmUpNotes{kF3, kF4};
inline constexpr std::array kLowLadder{Note{48}, Note{50}, Note{52}, Note{53},
                                       Note{55}};  // C3 .. G3
inline constexpr std::array kHighLadder{Note{60}, Note{62}, Note{64}, Note{65},
                                        Note{67}};  // C4 .. G4

// The kind of hold a note is usually asked for in.
DrillKind usual_kind_of(Note note);
// After the last note of the ladder comes the warm-up again. A note outside both sets is followed
// by the warm-up of the nearer one; another kind of drill by itself. Band and goal are kept.
Drill drill_after(const Drill& drill);

}  // namespace holdwell
