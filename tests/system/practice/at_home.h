#pragma once
// Computers on which the program is used as a person uses it: a display and a microphone that are
// not there, keys, a rendered voice. Each computer has a home of its own; display and sound are
// shared by all, one window at a time.

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "app/files/recording.h"
#include "app/practice/records.h"
#include "tests/support/voice.h"
#include "tests/system/capture/sound_server.h"
#include "tests/system/window/display.h"

namespace holdwell::test {

inline constexpr SampleRate kSungRate{48'000.0};

// With half a second of a quiet room on either side.
Recording sung(const Contour& f0, Seconds length);

void wait_for(Seconds length);
bool comes_true(Seconds at_most, const std::function<bool()>& is_so);

// The records as they are on disk, read beside the program that writes them.
class Records {
public:
    explicit Records(std::filesystem::path file) : file_{std::move(file)} {}

    // Of the client who practises there, or of the one with that code.
    std::optional<ClientFile> of_home() const;
    std::optional<ClientFile> of(const std::string& code) const;
    std::optional<Practice> practice() const;  // the last one of hers
    bool has_trials(std::size_t count) const;

private:
    std::filesystem::path file_;
};

class Computer {
public:
    Computer(VirtualDisplay& display, const std::string& name);

    // A command of the program; its exit status.
    int run(const std::string& words) const;
    std::string said() const;

    void open_window();
    void close_window() { window_.reset(); }
    const Process& window() const { return *window_; }
    void press(const std::string& keys) const;  // xdotool's names, separated by blanks

    const std::filesystem::path& home() const { return home_; }
    std::filesystem::path records_folder() const { return home_ / "XDG_DATA_HOME/holdwell"; }
    Records records() const { return Records{records_folder() / "records.sqlite"}; }

private:
    VirtualDisplay& display_;
    std::filesystem::path home_;
    std::unique_ptr<Process> window_;
};

// Sings, with pauses, until it is so.
bool sing_until(SoundServer& server, const Recording& recording, Seconds at_most,
                const std::function<bool()>& is_so);

}  // namespace holdwell::test
