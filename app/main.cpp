// The program: words of the command line in, the window or one command out. Everything else is in
// the folders; this file only puts them together.

#include <unistd.h>

#include <exception>
#include <iostream>
#include <string>
#include <vector>

#include "app/cli/command_line.h"

int main(int argc, char** argv)
{
    using namespace holdwell;
    try {
        const std::vector<std::string> words{argv + 1, argv + argc};
        const Console console{
            .out = std::cout, .err = std::cerr, .err_is_terminal = isatty(STDERR_FILENO) == 1};
        return static_cast<int>(run_command_line(words, console, Surroundings{}));
    } catch (const std::exception& e) {
        std::cerr << "holdwell: something unforeseen happened (" << e.what()
                  << "); please start it again\n";
        return static_cast<int>(ExitStatus::trouble);
    }
}
