#include "tests/system/window/display.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <thread>

namespace holdwell::test {
namespace {

namespace fs = std::filesystem;
using namespace std::chrono_literals;

std::vector<char*> pointers_to(const std::vector<std::string>& words)
{
    std::vector<char*> pointers;
    for (const std::string& word : words) pointers.push_back(const_cast<char*>(word.c_str()));
    pointers.push_back(nullptr);
    return pointers;
}

// Ours, without a display, and what is added.
std::vector<std::string> environment_with(const std::vector<std::string>& added)
{
    std::vector<std::string> all = added;
    for (char** variable = environ; *variable != nullptr; ++variable) {
        const std::string text{*variable};
        const bool is_of_a_display =
            text.starts_with("DISPLAY=") || text.starts_with("WAYLAND_DISPLAY=");
        if (!is_of_a_display) all.push_back(text);
    }
    return all;
}

bool is_installed(const char* program)
{
    return std::system((std::string{"command -v "} + program + " >/dev/null 2>&1").c_str()) == 0;
}

}  // namespace

Process::Process(const std::vector<std::string>& command, const fs::path& output,
                 const std::vector<std::string>& environment)
{
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    const std::string out = output.empty() ? "/dev/null" : output.string();
    posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, out.c_str(),
                                     O_WRONLY | O_CREAT | O_TRUNC, 0600);
    posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
    const std::vector<std::string> variables = environment_with(environment);
    auto arguments = pointers_to(command);
    auto settings = pointers_to(variables);
    if (posix_spawnp(&pid_, arguments[0], &actions, nullptr, arguments.data(), settings.data()) !=
        0) {
        pid_ = -1;
    }
    posix_spawn_file_actions_destroy(&actions);
}

Process::~Process()
{
    if (pid_ < 0 || has_ended_) return;
    kill(pid_, SIGTERM);
    if (wait(5s) < 0 && !has_ended_) {
        kill(pid_, SIGKILL);
        waitpid(pid_, nullptr, 0);
    }
}

int Process::wait(std::chrono::seconds at_most)
{
    const auto deadline = std::chrono::steady_clock::now() + at_most;
    while (pid_ > 0 && !has_ended_ && std::chrono::steady_clock::now() < deadline) {
        int status = 0;
        if (waitpid(pid_, &status, WNOHANG) == pid_) {
            has_ended_ = true;
            return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
        }
        std::this_thread::sleep_for(10ms);
    }
    return -1;
}

void Process::signal(int number) const
{
    if (pid_ > 0 && !has_ended_) kill(pid_, number);
}

double Process::cpu_seconds() const
{
    std::ifstream stat{fmt::format("/proc/{}/stat", pid_)};
    std::string skipped;
    for (int field = 1; field < 14; ++field) stat >> skipped;
    double user = 0.0;
    double system = 0.0;
    stat >> user >> system;  // proc(5): fields 14 and 15, in clock ticks
    return (user + system) / static_cast<double>(sysconf(_SC_CLK_TCK));
}

VirtualDisplay::VirtualDisplay()
{
    if (!is_installed("Xvfb") || !is_installed("xdotool")) return;
    folder_ = fs::temp_directory_path() / fmt::format("holdwell-window-{}", getpid());
    fs::create_directories(folder_);
    const fs::path number = folder_ / "display";
    // Xvfb finds a free number itself and says it on its standard output.
    server_ = std::make_unique<Process>(
        std::vector<std::string>{"Xvfb", "-displayfd", "1", "-screen", "0", "1280x800x24",
                                 "-nolisten", "tcp", "+extension", "GLX", "+render", "-noreset"},
        number, std::vector<std::string>{});
    if (wait_for_text(number, "\n")) name_ = fmt::format(":{}", std::stoi(text_of(number)));
}

VirtualDisplay::~VirtualDisplay()
{
    server_.reset();
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
}

int VirtualDisplay::run(const std::string& command) const
{
    return std::system(("DISPLAY=" + name_ + " " + command + " >/dev/null 2>&1").c_str());
}

bool VirtualDisplay::wait_for_window(const std::string& title) const
{
    for (int i = 0; i < 100; ++i) {
        const std::string found = "xdotool search --onlyvisible --name '^" + title + "$'";
        if (run(found + " windowfocus --sync %1") == 0) return true;
        std::this_thread::sleep_for(100ms);
    }
    return false;
}

void VirtualDisplay::key(const std::string& keys) const
{
    run("timeout 10 xdotool key --delay 60 " + keys);
}

void VirtualDisplay::click(float x, float y) const
{
    run(fmt::format("timeout 10 xdotool mousemove {:.0f} {:.0f} sleep 0.15 click 1", x, y));
}

fs::path VirtualDisplay::shot(const std::string& name) const
{
    const fs::path file = folder_ / (name + ".png");
    run("timeout 20 import -window root '" + file.string() + "'");
    return file;
}

std::string text_of(const fs::path& file)
{
    std::ostringstream text;
    text << std::ifstream{file}.rdbuf();
    return text.str();
}

bool wait_for_text(const fs::path& file, const std::string& text)
{
    for (int i = 0; i < 200; ++i) {
        if (text_of(file).find(text) != std::string::npos) return true;
        std::this_thread::sleep_for(50ms);
    }
    return false;
}

}  // namespace holdwell::test
