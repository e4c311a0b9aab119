#pragma once
// The sound thread: PortAudio behind requests that never wait. What comes of a request is looked up
// later; a hanging device holds up the sound thread and nobody else.

#include <memory>
#include <mutex>
#include <optional>
#include <string>

#include "app/audio/capture_stream.h"
#include "app/audio/job_thread.h"
#include "app/audio/portaudio_session.h"
#include "app/base/result.h"
#include "app/engine/audio_source.h"

namespace holdwell {

using CaptureAnswer = Result<std::shared_ptr<CaptureStream>>;

// A microphone asked for: by and by it holds the answer, once.
class CaptureRequest {
public:
    std::optional<CaptureAnswer> take_answer();
    // Nobody waits any more. Returns an answer that had already come.
    std::optional<CaptureAnswer> withdraw();
    // False: withdrawn. [sound thread]
    bool answer(const CaptureAnswer& answer);

private:
    std::mutex mutex_;
    std::optional<CaptureAnswer> answer_;
    bool withdrawn_{false};
};

enum class DeviceList { as_known, anew };

class SoundSystem {
public:
    SoundSystem();
    // Closes everything, waiting for it no longer than JobThread::kPatience.
    ~SoundSystem();
    SoundSystem(const SoundSystem&) = delete;
    SoundSystem& operator=(const SoundSystem&) = delete;

    // All [worker].
    std::shared_ptr<CaptureRequest> request_capture(const std::string& name, DeviceList devices);
    void withdraw(const std::shared_ptr<CaptureRequest>& request);
    void release(std::shared_ptr<CaptureStream> stream);
    void play(const ToneRequest& tone);
    void look_for_microphones();
    SoundNews take_news();

private:
    struct State {
        std::optional<PortAudioSession> session{std::in_place};  // [sound thread]
        std::mutex mutex;
        SoundNews news;                  // under mutex
        std::shared_ptr<ToneFeed> tone;  // under mutex; sounding, or not yet closed
    };
    static void begin_tone(State& state, const ToneRequest& tone);
    void close_ended_tone();

    std::shared_ptr<State> state_;
    JobThread thread_;
};

}  // namespace holdwell
