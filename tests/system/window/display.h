#pragma once
// A display of our own, a program upon it, and hands: keys, mouse and pictures. Everything waits a
// bounded time and is ended with the object that started it.

#include <sys/types.h>

#include <chrono>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

namespace holdwell::test {

// Programs started by us, by their id.
class Process {
public:
    // Standard output goes to `output`, or nowhere.
    Process(const std::vector<std::string>& command, const std::filesystem::path& output,
            const std::vector<std::string>& environment);
    ~Process();
    Process(const Process&) = delete;
    Process& operator=(const Process&) = delete;

    // Its exit status, or -1 when it has not ended in time.
    int wait(std::chrono::seconds at_most);
    void signal(int number) const;  // e.g. SIGSTOP
    // User and system time used so far, in seconds.
    double cpu_seconds() const;

private:
    pid_t pid_{-1};
    bool has_ended_{false};
};

class VirtualDisplay {
public:
    VirtualDisplay();
    // False where Xvfb or xdotool is not installed.
    bool is_up() const { return !name_.empty(); }
    const std::string& name() const { return name_; }  // ":97"
    const std::filesystem::path& folder() const { return folder_; }

    bool wait_for_window(const std::string& title) const;
    void key(const std::string& keys) const;  // xdotool's names, separated by blanks
    void click(float x, float y) const;
    std::filesystem::path shot(const std::string& name) const;

    ~VirtualDisplay();
    VirtualDisplay(const VirtualDisplay&) = delete;
    VirtualDisplay& operator=(const VirtualDisplay&) = delete;

private:
    int run(const std::string& command) const;

    std::filesystem::path folder_;
    std::string name_;
    std::unique_ptr<Process> server_;
};

// True as soon as the file holds the text, false after ten seconds.
bool wait_for_text(const std::filesystem::path& file, const std::string& text);
std::string text_of(const std::filesystem::path& file);

}  // namespace holdwell::test
