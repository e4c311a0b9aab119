#pragma once
// `holdwell coach --plan`: a whole practice in the terminal, asked before and after, each trial
// kept in the records, through the same guide and engine as the window.

#include "app/cli/coach.h"
#include "app/cli/coach_options.h"
#include "app/cli/console.h"

namespace holdwell {

// Returns when the practice is closed: done, stopped early, or not begun because an answer
// beforehand spoke against it.
ExitStatus coach_plan(const PlanOptions& options, const Console& console,
                      const MakeSoundPorts& make_sound_ports);

}  // namespace holdwell
