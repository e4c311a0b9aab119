#pragma once
// The command line: words in, one command run, its exit status out.
//
// 0: done. 1: something could not be read, heard or written; one sentence on standard error says
// what. 2: the words were not understood; likewise.

#include <functional>
#include <string>
#include <vector>

#include "app/cli/console.h"
#include "app/engine/audio_source.h"
#include "app/office/office.h"

namespace holdwell {

struct WindowRequest {
    std::string recording{};  // played through the same pipeline; empty: the microphone
    // Practice files to look at; nothing is kept. Empty: the person's own records.
    std::string example{};
};

// What a command may need of the rest of the program; an empty function is a part left out of this
// build.
struct Surroundings {
    std::function<ExitStatus(const WindowRequest&)> open_window;
    std::function<SoundPorts()> sound_ports;
    // A line about each, the system's own choice first. May take a second.
    std::function<Result<std::vector<std::string>>()> list_microphones;
    // Where the records are; empty: the person's own.
    std::function<OfficeSettings()> office_settings;
};

// `words`: without the program's name.
ExitStatus run_command_line(const std::vector<std::string>& words, const Console& console,
                            const Surroundings& surroundings);

}  // namespace holdwell
