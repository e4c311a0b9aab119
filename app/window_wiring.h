#pragma once
// The window connected to the live coach.

#include "app/cli/command_line.h"

namespace holdwell {

// Returns when the window is closed; `err` gets one sentence if it cannot be opened.
ExitStatus open_coach_window(const WindowRequest& request, std::ostream& err);

}  // namespace holdwell
