// The program: words of the command line in, the window or one command out. Everything else is in
// the folders; this file only puts them together.

#include <unistd.h>

#include <exception>
#include <iostream>
#include <string>
#include <vector>

#include "app/audio/devices.h"
#include "app/audio/sound_ports.h"
#include "app/cli/command_line.h"
#include "app/cli/typed_lines.h"
#ifdef HOLDWELL_HAS_WINDOW
#include "app/window_wiring.h"
#endif

namespace {

using namespace holdwell;

Result<std::vector<std::string>> lines_on_microphones()
{
    const auto found = list_microphones();
    if (!found) return found.error();
    return lines_about(found.value());
}

Surroundings the_real_world()
{
    Surroundings around;
    around.sound_ports = make_sound_ports;
    around.list_microphones = lines_on_microphones;
#ifdef HOLDWELL_HAS_WINDOW
    around.open_window = [](const WindowRequest& r) { return open_coach_window(r, std::cerr); };
#endif
    return around;
}

}  // namespace

int main(int argc, char** argv)
{
    try {
        const std::vector<std::string> words{argv + 1, argv + argc};
        const Console console{.out = std::cout,
                              .err = std::cerr,
                              .err_is_terminal = isatty(STDERR_FILENO) == 1,
                              .typed = lines_of_standard_input()};
        return static_cast<int>(run_command_line(words, console, the_real_world()));
    } catch (const std::exception& e) {
        std::cerr << "holdwell: something unforeseen happened (" << e.what()
                  << "); please start it again\n";
        return static_cast<int>(ExitStatus::trouble);
    }
}
