#pragma once
// A sound system whose recordings sound as fast as they are asked for, and can be interrupted at a
// given place: the terminal's real-time coach without waiting.

#include <atomic>
#include <csignal>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <utility>

#include "app/cli/command_line.h"
#include "app/files/recording.h"

namespace holdwell::test {

// A signal raised once so much of the recording has been heard; it then goes on without a sound.
struct SignalAt {
    int signal;
    Seconds at;
};

struct SoundingScript {
    std::optional<SignalAt> signal{};
    // Before it is true half a second sounds, no more; null: all of it at once.
    std::shared_ptr<std::atomic<bool>> may_go_on{};
};

class SoundingFile final : public AudioSource {
public:
    SoundingFile(RecordingReader reader, const std::string& path, SoundingScript script)
        : reader_{std::move(reader)}, script_{std::move(script)}
    {
        status_.state = CaptureState::live;
        status_.device = std::filesystem::path{path}.filename().string();
        status_.sample_rate = reader_.format().sample_rate;
        status_.stream = 1;
    }

    bool try_take(AudioBlock& block) override
    {
        if (!std::exchange(begun_, true)) return false;  // begins when it is first asked for
        const Seconds heard = time_of(next_, status_.sample_rate);
        const bool must_wait = heard >= 500ms && script_.may_go_on && !*script_.may_go_on;
        if (silent_ || must_wait) return false;
        const auto& raised = script_.signal;
        if (raised && heard >= raised->at) {
            silent_ = true;
            std::raise(raised->signal);
            return false;
        }
        block.begin = next_;
        block.count = reader_.read(block.samples);
        next_ = next_ + SampleCount{static_cast<std::int64_t>(block.count)};
        if (block.count > 0) return true;
        status_.state = CaptureState::recording_ended;
        status_.message = reader_.shortfall().value_or("The recording has ended.");
        return false;
    }

    SourceStatus status() override { return status_; }

private:
    RecordingReader reader_;
    SoundingScript script_;
    SourceStatus status_;
    SampleIndex next_{};
    bool begun_{false};
    bool silent_{false};
};

// Nothing is played, and there is no microphone.
inline SoundPorts silent_ports()
{
    SoundPorts ports;
    ports.play_tone = [](const ToneRequest&) {};
    ports.look_for_microphones = [] {};
    ports.take_news = [] { return SoundNews{}; };
    ports.remembered_microphone = [] { return std::string{}; };
    ports.remember_microphone = [](const std::string&) {};
    return ports;
}

inline SoundPorts sounding_ports(const SoundingScript& script)
{
    SoundPorts ports = silent_ports();
    ports.open_recording =
        [script](const std::string& path) -> Result<std::unique_ptr<AudioSource>> {
        Result<RecordingReader> reader = RecordingReader::open(path);
        if (!reader) return reader.error();
        return std::unique_ptr<AudioSource>{
            std::make_unique<SoundingFile>(std::move(reader.value()), path, script)};
    };
    return ports;
}

inline Surroundings sounding(const SoundingScript& script = {})
{
    Surroundings around;
    around.sound_ports = [script] { return sounding_ports(script); };
    return around;
}

}  // namespace holdwell::test
