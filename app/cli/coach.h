#pragma once
// `holdwell coach`: one drill in the terminal, through the same engine as the window.

#include <functional>

#include "app/cli/coach_options.h"
#include "app/cli/console.h"
#include "app/engine/audio_source.h"

namespace holdwell {

using MakeSoundPorts = std::function<SoundPorts()>;

// Returns when the trials are done, the recording has ended, or Ctrl and C were pressed.
ExitStatus coach(const CoachOptions& options, const Console& console,
                 const MakeSoundPorts& make_sound_ports);

}  // namespace holdwell
