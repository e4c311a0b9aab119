#include "app/audio/sound_ports.h"

#include <memory>

#include "app/audio/library_chatter.h"
#include "app/audio/microphone.h"
#include "app/audio/replay.h"
#include "app/audio/sound_system.h"
#include "app/base/settings.h"
#include "app/files/flac_bytes.h"

namespace holdwell {

SoundPorts make_sound_ports()
{
    silence_library_chatter();
    const auto sound = std::make_shared<SoundSystem>();
    const std::optional<std::filesystem::path> file = settings_file();
    return {
        .open_microphone = [sound](const std::string& name) -> std::unique_ptr<AudioSource> {
            return std::make_unique<Microphone>(sound, name);
        },
        .open_recording = [](const std::string& path) { return Replay::open(path); },
        .play_tone = [sound](const ToneRequest& tone) { sound->play(tone); },
        .look_for_microphones = [sound] { sound->look_for_microphones(); },
        .take_news = [sound] { return sound->take_news(); },
        .remembered_microphone =
            [file] { return file ? remembered(*file, kMicrophoneKey) : std::string{}; },
        .remember_microphone =
            [file](const std::string& name) {
                // A choice that cannot be saved still holds for today.
                if (file) static_cast<void>(remember(*file, {{kMicrophoneKey, name}}));
            },
        .encode =
            [](const SoundClip& clip) {
                return flac_of({.samples = clip.samples, .sample_rate = clip.rate});
            },
        .decode = [](const std::vector<std::byte>& flac) -> Result<SoundClip> {
            auto read = sound_of_flac(flac);
            if (!read) return read.error();
            return SoundClip{.samples = std::move(read.value().samples),
                             .rate = read.value().sample_rate};
        },
    };
}

}  // namespace holdwell
