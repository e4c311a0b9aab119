#pragma once
// A recording played into the coach as if it were being sung now: blocks of 10 ms, each handed out
// when its last sample's time has come. A late caller gets the backlog; nothing is lost.

#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "app/audio/stream_health.h"
#include "app/base/result.h"
#include "app/engine/audio_source.h"
#include "app/files/recording.h"

namespace holdwell {

class Replay final : public AudioSource {
public:
    using Clock = std::function<SteadyTime()>;

    // The recording begins when the first block is asked for. `clock` is for tests.
    static Result<std::unique_ptr<AudioSource>> open(const std::string& path,
                                                     Clock clock = std::chrono::steady_clock::now);

    bool try_take(AudioBlock& block) override;
    SourceStatus status() override { return status_; }

private:
    Replay(RecordingReader reader, const std::string& path, Clock clock);
    void read_ahead();
    void end();

    RecordingReader reader_;
    Clock clock_;
    SourceStatus status_;
    std::optional<SteadyTime> begin_;
    AudioBlock next_;
};

}  // namespace holdwell
