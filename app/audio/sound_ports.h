#pragma once
// The real sound system for the worker: PortAudio, recordings, and the remembered microphone.

#include "app/engine/audio_source.h"

namespace holdwell {

// Call it before other threads start: it quietens the sound libraries' own messages.
SoundPorts make_sound_ports();

}  // namespace holdwell
