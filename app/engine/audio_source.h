#pragma once
// Where the worker's samples come from and its sounds go to, without saying how: a microphone, a
// recording, a loudspeaker. The engine side of app/audio; tests put scripted ones here.

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/base/result.h"
#include "app/engine/audio_block.h"
#include "app/engine/engine.h"
#include "app/engine/messages.h"

namespace holdwell {

struct SourceStatus {
    CaptureState state{CaptureState::opening};
    std::string device;   // its name as shown
    std::string message;  // one sentence for the person, empty when all is well
    SampleRate sample_rate{};
    // Counts the streams that this source has opened, from 1. With a new one sample indexes begin
    // at 0 again. 0: none yet.
    int stream{0};
};

// Neither call waits for a device.
class AudioSource {
public:
    virtual ~AudioSource() = default;

    // Fills the next block, oldest first; false when there is none yet. [worker]
    virtual bool try_take(AudioBlock& block) = 0;

    // How the source is at this moment. Notices losses, so call it at least every 100 ms. [worker]
    virtual SourceStatus status() = 0;
};

// What became known since last asked.
struct SoundNews {
    std::optional<std::vector<std::string>> microphones;  // names, the system's own choice first
    std::optional<std::string> trouble;  // one sentence: a tone could not be played
};

// What the worker may ask of the sound system; nothing here waits for a device. [worker]
struct SoundPorts {
    std::function<std::unique_ptr<AudioSource>(const std::string& name)> open_microphone;
    std::function<Result<std::unique_ptr<AudioSource>>(const std::string& path)> open_recording;
    std::function<void(const ToneRequest&)> play_tone;
    std::function<void()> look_for_microphones;  // the answer comes as news
    std::function<SoundNews()> take_news;
    std::function<std::string()> remembered_microphone;  // empty: the system's own choice
    std::function<void(const std::string& name)> remember_microphone;
    // Sound as FLAC and back; empty: models are not played, and no sound is kept.
    std::function<Result<std::vector<std::byte>>(const SoundClip&)> encode{};
    std::function<Result<SoundClip>(const std::vector<std::byte>&)> decode{};
};

}  // namespace holdwell
