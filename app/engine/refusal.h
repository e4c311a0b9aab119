#pragma once
// Drills that cannot be heard on the microphone there is.

#include <optional>
#include <string>

#include "app/practice/drill.h"
#include "dsp/units.h"

namespace holdwell {

// Why the drill cannot be done at this rate, and what to do, in one or two sentences for the
// client; nothing when it can. An /s/ and a /z/ need 44 100 samples a second (dsp/frication.h):
// below that their hiss is cut off, by wireless headsets above all.
std::optional<std::string> refusal_of(const Drill& drill, SampleRate rate);

}  // namespace holdwell
