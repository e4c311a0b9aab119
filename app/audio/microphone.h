#pragma once
// The microphone as a source of blocks that looks after itself: opens, notices within two seconds
// when nothing (or nothing but zeros) comes any more, lets go, and tries again every second until a
// device is back. Single-threaded [worker]; never waits.

#include <memory>
#include <optional>
#include <string>

#include "app/audio/sound_system.h"
#include "app/audio/stream_health.h"
#include "app/engine/audio_source.h"

namespace holdwell {

class Microphone final : public AudioSource {
public:
    // `name`: of a device; empty for the system's own choice.
    Microphone(std::shared_ptr<SoundSystem> sound, std::string name);
    ~Microphone() override;
    Microphone(const Microphone&) = delete;
    Microphone& operator=(const Microphone&) = delete;

    bool try_take(AudioBlock& block) override;
    SourceStatus status() override;

private:
    void ask(SteadyTime now, DeviceList devices);
    void look_for_answer(SteadyTime now);
    void begin(std::shared_ptr<CaptureStream> stream, SteadyTime now);
    void watch(SteadyTime now);
    void announce();
    void count_losses(SteadyTime now);
    void let_go(SteadyTime now);
    void say(CaptureState state, std::string message);
    bool has_been_heard() const { return status_.stream > 0; }

    std::shared_ptr<SoundSystem> sound_;
    std::string name_;
    SourceStatus status_;
    std::shared_ptr<CaptureRequest> request_;
    SteadyTime next_try_{};
    SteadyTime asked_at_{};
    std::shared_ptr<CaptureStream> stream_;
    std::optional<StreamHealth> health_;
    std::optional<DriftCheck> drift_;
    SampleCount never_arrived_{};  // in this stream; later blocks begin so much later
    SampleCount noticed_late_{};   // for the next block
    bool announced_{false};        // this stream, as live or muted
};

}  // namespace holdwell
