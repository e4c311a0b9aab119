#include "tests/system/capture/sound_server.h"

#include <chrono>
#include <cmath>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <thread>

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

namespace holdwell::test {

namespace {

namespace fs = std::filesystem;

// Its output goes to /dev/null. -1 when the program is not there.
pid_t spawn(const std::vector<std::string>& command)
{
    std::vector<char*> arguments;
    for (const std::string& word : command) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    for (const int fd : {STDOUT_FILENO, STDERR_FILENO}) {
        posix_spawn_file_actions_addopen(&actions, fd, "/dev/null", O_WRONLY, 0);
    }
    pid_t pid = -1;
    const int error =
        posix_spawnp(&pid, arguments[0], &actions, nullptr, arguments.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    return error == 0 ? pid : -1;
}

int exit_status_of(pid_t pid)
{
    int status = -1;
    if (pid < 0 || waitpid(pid, &status, 0) != pid || !WIFEXITED(status)) return -1;
    return WEXITSTATUS(status);
}

void set_environment(const std::string& folder)
{
    const std::vector<std::pair<std::string, std::string>> variables{
        {"XDG_RUNTIME_DIR", "/run"},          {"PULSE_RUNTIME_PATH", "/run/pulse"},
        {"PULSE_STATE_PATH", "/state"},       {"PULSE_CONFIG_PATH", "/config"},
        {"PULSE_COOKIE", "/config/cookie"},   {"HOME", "/home"},
        {"XDG_CONFIG_HOME", "/home/.config"}, {"ALSA_CONFIG_PATH", "/asound.conf"}};
    for (const auto& [name, place] : variables) setenv(name.c_str(), (folder + place).c_str(), 1);
    setenv("PULSE_SERVER", ("unix:" + folder + "/run/pulse/native").c_str(), 1);
    unsetenv("PULSE_SOURCE");
    unsetenv("PULSE_SINK");
}

// norewinds: an idle null sink otherwise works in blocks of two seconds.
std::string kind_of_sink(SampleRate rate)
{
    return "rate=" + std::to_string(std::lround(rate.hz)) +
           " channels=1 format=float32le channel_map=mono norewinds=1";
}

void write_configuration(const std::string& folder, SampleRate rate)
{
    for (const char* place : {"/run", "/run/pulse", "/state", "/config", "/home"}) {
        fs::create_directory(folder + place);
        fs::permissions(folder + place, fs::perms::owner_all);
    }
    std::ofstream{folder + "/pulse.pa"}
        << "load-module module-native-protocol-unix auth-anonymous=1 socket=" << folder
        << "/run/pulse/native\n"
           "load-module module-null-sink sink_name=testsink "
        << kind_of_sink(rate)
        << "\n"
           "set-default-sink testsink\n"
           "set-default-source testsink.monitor\n";
    std::ofstream{folder + "/asound.conf"}
        << "pcm.pulse { type pulse hint { show on description \"PulseAudio\" } }\n"
           "ctl.pulse { type pulse }\n"
           "pcm.!default { type pulse hint { show on description \"Default\" } }\n"
           "ctl.!default { type pulse }\n";
}

}  // namespace

SoundServer::SoundServer(SampleRate rate)
{
    std::string pattern = fs::temp_directory_path().string() + "/holdwell-sound-XXXXXX";
    if (mkdtemp(pattern.data()) == nullptr) std::abort();
    folder_ = pattern;
    write_configuration(folder_, rate);
    set_environment(folder_);
}

SoundServer::~SoundServer()
{
    kill();
    for (const pid_t player : players_) {
        ::kill(player, SIGKILL);
        exit_status_of(player);
    }
    std::error_code error;
    fs::remove_all(folder_, error);
}

Outcome SoundServer::start()
{
    std::error_code error;
    fs::remove(folder_ + "/run/pulse/native", error);
    server_ = spawn({"pulseaudio", "-n", "-F", folder_ + "/pulse.pa", "--daemonize=no",
                     "--exit-idle-time=-1", "--disallow-exit=no", "--use-pid-file=no",
                     "--realtime=no", "--high-priority=no", "--disable-shm=yes",
                     "--log-target=file:" + folder_ + "/pulse.log"});
    if (server_ < 0) {
        return Error{"pulseaudio could not be started; install the packages pulseaudio, "
                     "pulseaudio-utils and libasound2-plugins"};
    }
    for (int tries = 0; tries < 100; ++tries) {
        if (control({"info"})) return Done{};
        std::this_thread::sleep_for(std::chrono::milliseconds{50});
    }
    return Error{"pulseaudio was started, but did not answer within five seconds"};
}

void SoundServer::kill()
{
    if (server_ < 0) return;
    ::kill(server_, SIGKILL);
    exit_status_of(server_);
    server_ = -1;
}

void SoundServer::freeze() { ::kill(server_, SIGSTOP); }

void SoundServer::thaw() { ::kill(server_, SIGCONT); }

Outcome SoundServer::control(const std::vector<std::string>& arguments) const
{
    std::vector<std::string> command{"pactl"};
    command.insert(command.end(), arguments.begin(), arguments.end());
    const int status = exit_status_of(spawn(command));
    if (status == 0) return Done{};
    return Error{"pactl " + arguments.front() + " failed with status " + std::to_string(status)};
}

Outcome SoundServer::add_sink(const std::string& name) const
{
    return control({"load-module", "module-null-sink", "sink_name=" + name,
                    kind_of_sink(SampleRate{48'000.0})});
}

Outcome SoundServer::remove_default_sink() const
{
    return control({"unload-module", "1"});  // the second of pulse.pa, counted from 0
}

Outcome SoundServer::move_listeners_to(const std::string& source) const
{
    const std::string each = "for i in $(pactl list short source-outputs | cut -f1); do ";
    const std::string move = "pactl move-source-output $i " + source + " || exit 1; done";
    if (std::system((each + move).c_str()) == 0) return Done{};
    return Error{"the listeners could not be moved to " + source};
}

Outcome SoundServer::play(const Recording& recording)
{
    const std::string file = folder_ + "/play-" + std::to_string(players_.size()) + ".wav";
    const Outcome written = write_recording(file, recording, Encoding::wav_float);
    if (!written) return written;
    const pid_t player = spawn({"paplay", file});
    if (player < 0) return Error{"paplay could not be started; install pulseaudio-utils"};
    players_.push_back(player);
    return Done{};
}

}  // namespace holdwell::test
