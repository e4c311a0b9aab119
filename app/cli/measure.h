#pragma once
// `holdwell measure`: recordings in, measures out, in the order in which they were named.

#include "app/cli/console.h"
#include "app/cli/measure_options.h"

namespace holdwell {

// Several files at once, each by a thread of its own; what is printed does not depend on how many.
ExitStatus measure(const MeasureOptions& options, const Console& console);

// `holdwell measure --frames FILE`: one row a hop.
ExitStatus print_frames(const MeasureOptions& options, const Console& console);

}  // namespace holdwell
