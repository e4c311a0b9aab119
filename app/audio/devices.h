#pragma once
// The microphones of this computer, for a person who wants to know or to choose.

#include <string>
#include <vector>

#include "app/audio/portaudio_session.h"
#include "app/base/result.h"

namespace holdwell {

struct MicrophoneList {
    std::vector<InputDevice> devices;  // the system's own choice first; may be empty
    std::string chosen;                // the name last chosen; empty: the system's own choice
};

// One line for each: name, channels, rates, and whether it is the system's or the person's choice.
std::vector<std::string> lines_about(const MicrophoneList& microphones);

// Looks for them now, for at most three seconds. Not beside a running LiveCoach.
Result<MicrophoneList> list_microphones();

}  // namespace holdwell
