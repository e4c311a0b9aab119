#pragma once
// Our hold timer over a whole recording, as the tests and tables judge it.

#include <vector>

#include "dsp/listener.h"
#include "tests/support/hold_score.h"

namespace holdwell::bench {

Heard heard_in(const test::ScriptedTake& take, const ListeningTask& task);
std::vector<test::HeardHold> holds_heard_in(const test::ScriptedTake& take,
                                            const ListeningTask& task);

}  // namespace holdwell::bench
