#include "tests/system/practice/at_home.h"

#include <doctest/doctest.h>
#include <sys/wait.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <thread>
#include <vector>

#include "app/store/store.h"
#include "tests/support/signal_script.h"

namespace holdwell::test {

namespace fs = std::filesystem;

namespace {

constexpr const char* kHomeFolders[]{"XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME"};

std::vector<std::string> environment_of(const fs::path& home)
{
    std::vector<std::string> all{"HOME=" + home.string()};
    for (const char* name : kHomeFolders)
        all.push_back(std::string{name} + "=" + (home / name).string());
    return all;
}

std::optional<ClientFile> file_of(Store& store, const Id& client)
{
    const auto found = store.client_file(client);
    return found ? found.value() : std::nullopt;
}

}  // namespace

Recording sung(const Contour& f0, Seconds length)
{
    Voice voice;
    voice.f0 = f0;
    voice.jitter_percent = 0.3;
    voice.shimmer_percent = 1.5;
    voice.hnr = Decibels{25.0};
    voice.attack = 60ms;
    const ScriptedTake take = SignalScript{kSungRate, 23}
                                  .silence(500ms)
                                  .voice(voice, length)
                                  .silence(500ms)
                                  .with_noise(NoiseKind::white, Dbfs{-72.0})
                                  .build();
    return {.samples = take.samples, .sample_rate = kSungRate};
}

void wait_for(Seconds length) { std::this_thread::sleep_for(length); }

bool comes_true(Seconds at_most, const std::function<bool()>& is_so)
{
    const auto begin = std::chrono::steady_clock::now();
    while (!is_so()) {
        if (std::chrono::steady_clock::now() - begin > at_most) return false;
        wait_for(100ms);
    }
    return true;
}

// ---- records -----------------------------------------------------------------------------------

std::optional<ClientFile> Records::of_home() const
{
    if (!fs::exists(file_)) return std::nullopt;
    auto store = Store::open_to_read(file_);
    if (!store) return std::nullopt;
    const auto home = store.value().home_client();
    if (!home || !home.value()) return std::nullopt;
    return file_of(store.value(), *home.value());
}

std::optional<ClientFile> Records::of(const std::string& code) const
{
    if (!fs::exists(file_)) return std::nullopt;
    auto store = Store::open_to_read(file_);
    if (!store) return std::nullopt;
    const auto clients = store.value().clients();
    if (!clients) return std::nullopt;
    const auto found = std::ranges::find(clients.value(), code, &Client::code);
    if (found == clients.value().end()) return std::nullopt;
    return file_of(store.value(), found->id);
}

std::optional<Practice> Records::practice() const
{
    const auto file = of_home();
    if (!file || file->practices.empty()) return std::nullopt;
    return file->practices.back();
}

bool Records::has_trials(std::size_t count) const
{
    const auto now = practice();
    return now && now->trials.size() >= count;
}

// ---- a computer --------------------------------------------------------------------------------

Computer::Computer(VirtualDisplay& display, const std::string& name)
    : display_{display}, home_{display.folder() / name}
{
    fs::create_directories(home_ / "Documents");
}

int Computer::run(const std::string& words) const
{
    std::string command = "env";
    for (const std::string& variable : environment_of(home_)) command += " " + variable;
    command += std::string{" "} + HOLDWELL_PROGRAM + " " + words;
    command += " >" + (home_ / "said").string() + " 2>&1";
    const int status = std::system(command.c_str());  // NOLINT(concurrency-mt-unsafe)
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

std::string Computer::said() const { return text_of(home_ / "said"); }

void Computer::open_window()
{
    // "env" sets what this process has set already for itself.
    std::vector<std::string> command{"env"};
    for (const std::string& variable : environment_of(home_)) command.push_back(variable);
    command.emplace_back(HOLDWELL_PROGRAM);
    window_ = std::make_unique<Process>(
        command, home_ / "window-said",
        std::vector<std::string>{"DISPLAY=" + display_.name(), "LP_NUM_THREADS=1"});
    REQUIRE(display_.wait_for_window("Holdwell"));
    wait_for(1s);
}

void Computer::press(const std::string& keys) const
{
    display_.key(keys);
    wait_for(600ms);
}

bool sing_until(SoundServer& server, const Recording& recording, Seconds at_most,
                const std::function<bool()>& is_so)
{
    const auto begin = std::chrono::steady_clock::now();
    const Seconds length =
        duration_of({static_cast<std::int64_t>(recording.samples.size())}, recording.sample_rate);
    while (std::chrono::steady_clock::now() - begin < at_most) {
        REQUIRE(server.play(recording));
        if (comes_true(length + Seconds{3.5}, is_so)) return true;
    }
    return false;
}

}  // namespace holdwell::test
