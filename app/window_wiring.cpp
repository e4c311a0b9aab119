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
#include <vector>

#include "app/audio/sound_ports.h"
#include "app/base/settings.h"
#include "app/engine/live_coach.h"
#include "app/files/demo_drill.h"
#include "app/files/recording.h"
#include "app/pages/pages.h"
#include "app/ui/preferences.h"
#include "app/ui/window.h"
#include "app/window_records.h"

namespace holdwell {

namespace {

namespace fs = std::filesystem;

// The demonstrations to offer when there is no microphone: from HOLDWELL_DEMO on, or those
// installed beside the program.
std::vector<fs::path> demo_sessions()
{
    const char* named = std::getenv("HOLDWELL_DEMO");
    if (named != nullptr && *named != '\0') return demos_from(named);
    std::error_code ignored;
    const fs::path program = fs::read_symlink("/proc/self/exe", ignored);
    return demos_in(program.parent_path().parent_path() / "share/holdwell/demo-sessions");
}

std::vector<Demo> as_demos(const std::vector<fs::path>& recordings)
{
    std::vector<Demo> demos;
    for (const fs::path& file : recordings) demos.push_back({file.string(), drill_of_demo(file)});
    return demos;
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

// One sentence if it is named and cannot be played.
std::optional<std::string> trouble_with(const std::string& recording)
{
    if (recording.empty()) return std::nullopt;
    const auto opened = RecordingReader::open(recording);
    return opened ? std::nullopt : std::optional{opened.error().message};
}

}  // namespace

ExitStatus open_coach_window(const WindowRequest& request, std::ostream& err)
{
    // Said here, where the file was named, and not first on a window that opens for nothing.
    if (const auto trouble = trouble_with(request.recording)) {
        err << *trouble << '\n';
        return ExitStatus::trouble;
    }
    WakeRelay relay;
    LiveCoach coach{make_sound_ports(), [&relay] { relay(); }};
    const std::optional<fs::path> remembered = settings_file();
    WindowRun run;
    if (remembered) run.preferences = load_preferences(*remembered);
    run.options.demos = as_demos(demo_sessions());
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
        run.options.demos = as_demos(demos_from(request.recording));
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
