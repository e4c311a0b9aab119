#pragma once
// Single measures of an estimator that both the tests and `estimators` take.

#include <vector>

#include "tests/bench/pitch_method.h"

namespace holdwell::bench {

// By how much the times of its estimates are late, fitted on gliding harmonics.
Seconds fitted_delay(const MethodKind& kind);

// From each abrupt beginning of a voice to the end of the first hop whose estimate is within 50
// cents, ms.
std::vector<double> waits_ms(const MethodKind& kind, const test::ScriptedTake& take);

// Mean error of ours on steady harmonics, at 48 kHz.
Cents bias_at(Hertz f0);

}  // namespace holdwell::bench
