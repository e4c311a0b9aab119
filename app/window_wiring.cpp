#include "app/window_wiring.h"

#include <cstdlib>
#include <filesystem>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <system_error>
#include <utility>
#include <variant>

#include "app/audio/sound_ports.h"
#include "app/base/settings.h"
#include "app/engine/live_coach.h"
#include "app/files/demo_drill.h"
#include "app/pages/pages.h"
#include "app/ui/preferences.h"
#include "app/ui/window.h"
#include "app/window_records.h"

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

// Starts the coach: on the microphone at once, on a recording when the first drill begins, so that
// it is not played to somebody who is still reading.
class Start {
public:
    Start(LiveCoach& coach, const WindowRequest& request) : coach_{coach}
    {
        if (!request.recording.empty()) first_ = PlayRecording{request.recording};
        if (request.recording.empty()) begin();
    }

    void post(const Command& command)
    {
        coach_.post(command);
        if (std::holds_alternative<BeginDrill>(command) && !begun_) begin();
    }

private:
    void begin()
    {
        coach_.start(first_);
        begun_ = true;
    }

    LiveCoach& coach_;
    Command first_{ReopenMicrophone{}};
    bool begun_{false};
};

}  // namespace

ExitStatus open_coach_window(const WindowRequest& request, std::ostream& err)
{
    WakeRelay relay;
    LiveCoach coach{make_sound_ports(), [&relay] { relay(); }};
    const std::optional<fs::path> remembered = settings_file();
    WindowRun run;
    if (remembered) run.preferences = load_preferences(*remembered);
    run.options.demo_path = demo_session();
    auto records = WindowRecords::open(request.example, [&relay] { relay(); });
    if (!records) {
        err << "holdwell: " << records.error().message << '\n';
        return ExitStatus::trouble;
    }
    OfficeThread& office = records.value()->office();
    // A recording alone is for the practice screen; everything else begins with today.
    if (request.recording.empty() || !request.example.empty()) {
        run.options.opens_on = OpensOn::page;
    }
    if (!request.example.empty()) {
        run.preferences.cautions = Cautions::read;
        run.options.records = RecordsOf::example;
    }
    if (!request.recording.empty()) {
        run.options.demo_path = request.recording;
        run.options.demo_drill = drill_of_demo(request.recording);
        run.options.cue = CueAtStart::silent;
        run.options.source = SoundSource::recording;
    }
    Start start{coach, request};
    const WindowPorts ports{
        .post = [&start](const Command& command) { start.post(command); },
        .take_updates = [&coach] { return coach.take_updates(); },
        .set_wake = [&relay](std::function<void()> wake) { relay.set(std::move(wake)); },
        .remember =
            [&remembered](const Preferences& preferences) {
                // A preference that cannot be kept is no reason to disturb a practice.
                if (remembered) (void)save_preferences(*remembered, preferences);
            },
        .ask = [&office](Asked asked) { office.ask(std::move(asked.request), asked.number); },
        .take_answers = [&office] { return office.take_answers(); },
        .first_page = [] { return today_page(); },
        .today = [&records] { return records.value()->today(); },
    };
    const auto closed = run_window(run, ports);
    coach.stop();
    if (closed) return ExitStatus::ok;
    err << "holdwell: " << closed.error().message << '\n';
    return ExitStatus::trouble;
}

}  // namespace holdwell
