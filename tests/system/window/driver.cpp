// The real window on a scripted worker: every command it posts is printed, one a line, and a client
// who never was sings after each drill or trial that begins. driver [--silent] [--first-run]

#include <fmt/format.h>

#include <atomic>
#include <chrono>
#include <cstdio>
#include <functional>
#include <mutex>
#include <string_view>
#include <thread>
#include <variant>

#include "app/base/mailbox.h"
#include "app/ui/window.h"
#include "tests/app/ui/scripted.h"

using namespace holdwell;

namespace {

struct Name {
    std::string operator()(const BeginDrill& c) const
    {
        return fmt::format("BeginDrill {} {:.0f}", name_of(c.drill.target), c.drill.band.value);
    }
    std::string operator()(const HearNote&) const { return "HearNote"; }
    std::string operator()(const HearTone& c) const
    {
        return fmt::format("HearTone {:.2f}", c.f0.value);
    }
    std::string operator()(const ArmTrial&) const { return "ArmTrial"; }
    std::string operator()(const PauseListening&) const { return "PauseListening"; }
    std::string operator()(const BeginSoundCheck&) const { return "BeginSoundCheck"; }
    std::string operator()(const ChooseMicrophone& c) const { return "ChooseMicrophone " + c.name; }
    std::string operator()(const ReopenMicrophone&) const { return "ReopenMicrophone"; }
    std::string operator()(const PlayRecording& c) const { return "PlayRecording " + c.path; }
    std::string operator()(const UseOnsetThresholds&) const { return "UseOnsetThresholds"; }
    std::string operator()(const UseComfortableLevel&) const { return "UseComfortableLevel"; }
    std::string operator()(const UseModel&) const { return "UseModel"; }
    std::string operator()(const CaptureModel&) const { return "CaptureModel"; }
    std::string operator()(const KeepClips&) const { return "KeepClips"; }
};

void say(const std::string& line)
{
    fmt::print("{}\n", line);
    std::fflush(stdout);
}

class ScriptedWorker {
public:
    enum class Client { sings, is_silent };
    explicit ScriptedWorker(Client client) : client_{client}
    {
        for (const Update& u : scripted::beginning()) updates_.post(u);
    }
    ~ScriptedWorker()
    {
        is_open_ = false;
        if (singer_.joinable()) singer_.join();
    }
    ScriptedWorker(const ScriptedWorker&) = delete;
    ScriptedWorker& operator=(const ScriptedWorker&) = delete;

    void post(const Command& command)
    {
        say(std::visit(Name{}, command));
        if (std::holds_alternative<PauseListening>(command))
            updates_.post(StageChanged{Stage::paused});
        const bool begins = std::holds_alternative<BeginDrill>(command) ||
                            std::holds_alternative<ArmTrial>(command);
        if (!begins) return;
        updates_.post(StageChanged{Stage::ready});
        if (client_ == Client::sings && !singer_.joinable())
            singer_ = std::thread{[this] { sing(); }};
    }

    std::vector<Update> take_updates() { return updates_.take(); }
    void set_wake(std::function<void()> wake)
    {
        const std::lock_guard lock{mutex_};
        wake_ = std::move(wake);
    }

private:
    void sing()
    {
        scripted::Voice voice;
        voice.length = Seconds{2.0};
        auto next = std::chrono::steady_clock::now();
        for (const Update& update : scripted::trial(voice, {})) {
            if (!is_open_) return;
            updates_.post(update);
            {
                const std::lock_guard lock{mutex_};
                if (wake_) wake_();
            }
            next += std::chrono::milliseconds{10};
            std::this_thread::sleep_until(next);
        }
        say("sung");
    }

    Client client_;
    Mailbox<Update> updates_;
    std::mutex mutex_;
    std::function<void()> wake_;  // under mutex_
    std::atomic<bool> is_open_{true};
    std::thread singer_;
};

}  // namespace

int main(int argc, char** argv)
{
    auto client = ScriptedWorker::Client::sings;
    WindowRun run;
    run.preferences.cautions = Cautions::read;
    run.preferences.theme = Theme::light;
    for (int i = 1; i < argc; ++i) {
        if (std::string_view{argv[i]} == "--silent") client = ScriptedWorker::Client::is_silent;
        if (std::string_view{argv[i]} == "--first-run") run.preferences.cautions = Cautions::unread;
    }
    ScriptedWorker worker{client};
    const WindowPorts ports{
        .post = [&](Command c) { worker.post(c); },
        .take_updates = [&] { return worker.take_updates(); },
        .set_wake = [&](std::function<void()> wake) { worker.set_wake(std::move(wake)); },
        .remember =
            [](const Preferences& p) { say(fmt::format("remember text {}", p.text_percent)); },
    };
    const auto figures = run_window(run, ports);
    if (!figures) {
        say(figures.error().message);
        return 1;
    }
    say(fmt::format("frames {}", figures.value().frames));
    return 0;
}
