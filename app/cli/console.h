#pragma once
// Where a command writes to, so that a test can read along.

#include <ostream>

namespace holdwell {

struct Console {
    std::ostream& out;            // results
    std::ostream& err;            // what went wrong, and progress
    bool err_is_terminal{false};  // progress is shown only then
};

// MEASURE's promise to scripts.
enum class ExitStatus { ok = 0, trouble = 1, wrong_usage = 2 };

}  // namespace holdwell
