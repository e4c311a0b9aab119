#pragma once
// What the client is told of how well she could be heard. Plain and kind, in the window as in the
// terminal.

#include <string>

#include "app/engine/messages.h"

namespace holdwell {

// What could not be judged, and why, in one sentence.
std::string doubt_words(Doubt doubt);
// What is said of a hold that was steadier than any throat.
inline constexpr const char* kLikeAMachine = "as even as a machine";
// "louder than it need be: softer is enough"; empty when it was as asked, or is not known.
std::string loudness_words(Loudness loudness);
// What the computer does to the microphone's sound, what that spoils, and what to do.
std::string processing_words(MicrophoneProcessing kind);

}  // namespace holdwell
