#pragma once
// Where a command writes to, so that a test can read along.

#include <ostream>

#include "app/cli/typed_lines.h"

namespace holdwell {

struct Console {
    std::ostream& out;            // results
    std::ostream& err;            // what went wrong, and progress
    bool err_is_terminal{false};  // progress is shown only then
    TypedLines typed{};           // empty: nothing can be typed
};

// MEASURE's promise to scripts.
enum class ExitStatus { ok = 0, trouble = 1, wrong_usage = 2 };

}  // namespace holdwell
