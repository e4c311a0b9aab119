#pragma once
// A microphone without hardware: a private PulseAudio server whose null sink's monitor is the
// default source. What is played into the sink is what the program hears.
//
// The environment of this process is pointed at it, so make one before any sound library starts.
// Everything lives in a temporary folder of its own and is gone with the object.

#include <string>
#include <vector>

#include <sys/types.h>

#include "app/base/result.h"
#include "app/files/recording.h"

namespace holdwell::test {

class SoundServer {
public:
    // `rate`: of the null sink, and so of what is heard.
    explicit SoundServer(SampleRate rate = SampleRate{48'000.0});
    ~SoundServer();
    SoundServer(const SoundServer&) = delete;
    SoundServer& operator=(const SoundServer&) = delete;

    // Returns when it answers.
    Outcome start();
    void kill();    // as if it had crashed
    void freeze();  // it stays, but does nothing any more
    void thaw();

    // e.g. {"suspend-sink", "testsink", "1"}
    Outcome control(const std::vector<std::string>& arguments) const;
    // Another null sink, silent as long as nothing is played into it, and its monitor.
    Outcome add_sink(const std::string& name) const;
    // The server lets the default sink and its monitor go, as when a device is unplugged; who used
    // them is moved to another there is.
    Outcome remove_default_sink() const;
    // Whoever listens hears this from now on.
    Outcome move_listeners_to(const std::string& source) const;
    // Plays a recording into the sink; returns at once.
    Outcome play(const Recording& recording);

    std::string folder() const { return folder_; }

private:
    std::string folder_;
    pid_t server_{-1};
    std::vector<pid_t> players_;
};

}  // namespace holdwell::test
