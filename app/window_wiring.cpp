#include "app/window_wiring.h"

#include <cstdlib>
#include <filesystem>
#include <functional>
#include <mutex>
#include <string>
#include <system_error>
#include <utility>

#include "app/audio/sound_ports.h"
#include "app/engine/live_coach.h"
#include "app/ui/preferences.h"
#include "app/ui/window.h"

namespace holdwell {

namespace {

namespace fs = std::filesystem;

// The demonstration to offer when there is no microphone: HOLDWELL_DEMO, or the first of those
// installed beside the program. Empty when there is none.
std::string demo_session()
{
    if (const char* named = std::getenv("HOLDWELL_DEMO")) return named;
    std::error_code ignored;
    const fs::path program = fs::read_symlink("/proc/self/exe", ignored);
    const fs::path folder = program.parent_path().parent_path() / "share/holdwell/demo-sessions";
    std::string first;
    for (const auto& entry : fs::directory_iterator{folder, ignored}) {
        const std::string path = entry.path().string();
        if (entry.path().extension() == ".flac" && (first.empty() || path < first)) first = path;
    }
    return first;
}

// The window's way to be woken, which comes later than the coach and goes earlier.
class WakeRelay {
public:
    void set(std::function<void()> wake)
    {
        const std::lock_guard lock{mutex_};
        wake_ = std::move(wake);
    }
    void operator()()
    {
        const std::lock_guard lock{mutex_};
        if (wake_) wake_();
    }

private:
    std::mutex mutex_;
    std::function<void()> wake_;  // under mutex_
};

}  // namespace

ExitStatus open_coach_window(const WindowRequest& request, std::ostream& err)
{
    WakeRelay relay;
    LiveCoach coach{make_sound_ports(), [&relay] { relay(); }};
    const fs::path remembered = preferences_path();
    WindowRun run;
    run.preferences = load_preferences(remembered);
    run.options.demo_path = demo_session();
    if (!request.recording.empty()) {
        run.options.demo_path = request.recording;
        run.options.cue = CueAtStart::silent;
    }
    const WindowPorts ports{
        .post = [&coach](Command command) { coach.post(std::move(command)); },
        .take_updates = [&coach] { return coach.take_updates(); },
        .set_wake = [&relay](std::function<void()> wake) { relay.set(std::move(wake)); },
        .remember =
            [&remembered](const Preferences& preferences) {
                // A preference that cannot be kept is no reason to disturb a practice.
                (void)save_preferences(remembered, preferences);
            },
    };
    if (request.recording.empty())
        coach.start();
    else
        coach.start(PlayRecording{request.recording});
    const auto closed = run_window(run, ports);
    coach.stop();
    if (closed) return ExitStatus::ok;
    err << "holdwell: " << closed.error().message << '\n';
    return ExitStatus::trouble;
}

}  // namespace holdwell
