#pragma once
// What was measured in one recording, for a person to read: one thing a line, words before
// numbers, no tables, so that it also makes sense when spoken by a screen reader.

#include <string>

#include "app/files/measures.h"
#include "dsp/listener.h"

namespace holdwell {

// Ends with a newline. The error, if any, is not repeated here: it has its own line elsewhere.
std::string as_text(const FileMeasures& measures, const ListeningTask& task);

// "349.9 Hz (F4, 3 cents high)": the nearest note and how far from it.
std::string pitch_in_words(Hertz f0);

// "3 cents above F4", "exactly on F4"; `from` may lie anywhere, and is then given in hertz.
std::string deviation_in_words(Cents deviation, Hertz from);

}  // namespace holdwell
