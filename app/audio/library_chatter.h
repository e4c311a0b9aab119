#pragma once
// Keeps the sound libraries from writing on the terminal: up to a hundred lines at a start without
// a sound card. What any other code writes to standard error still appears.

namespace holdwell {

// Once per process, best before the first other thread starts; further calls do nothing.
void silence_library_chatter();

// Whether ALSA, where there is one, knows a default device. PortAudio aborts the process when
// started without (ALSA_CONFIG_PATH naming an empty file).
bool sound_configuration_is_usable();

}  // namespace holdwell
