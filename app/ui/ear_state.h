#pragma once
// What the window knows of how well the microphone can be trusted, and of the therapist's own
// settings of it. Plain state, changed by ViewModel alone.

#include <optional>
#include <string>

#include "app/engine/messages.h"

namespace holdwell {

struct EarState {
    std::optional<std::string> refused;  // why the drill cannot be done on this microphone
    std::optional<MicrophoneProcessing> processing;
    Loudness loudness{Loudness::unknown};  // now
};

}  // namespace holdwell
