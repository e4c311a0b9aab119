#pragma once
// Records one sung model: waits for a voice, and ends soon after it has ended, as soon as it is
// known whether samples were lost in it.

#include <optional>

#include "app/engine/sound_keeper.h"
#include "dsp/frame_reading.h"

namespace holdwell {

class ModelRecorder {
public:
    static constexpr Seconds kLongestModel{15.0};
    static constexpr Seconds kPatience{20.0};  // for a voice to begin

    explicit ModelRecorder(SampleRate rate);

    void push(const AudioBlock& block) { keeper_.push(block); }
    enum class State { waiting, sounding, done, nothing_heard };
    State hear(const FrameReading& reading);
    // With a little of the room around it; once it is done. With a gap it is no model.
    SoundClip clip() const;

private:
    State follow(const FrameReading& reading);
    SampleIndex clip_begin() const;
    SampleIndex clip_end() const;

    SampleRate rate_;
    SoundKeeper keeper_;
    std::optional<SampleIndex> since_;
    std::optional<SampleIndex> voice_begin_;
    SampleIndex voice_end_{};
    bool is_sung_{false};  // what is heard now is no part of it any more
};

}  // namespace holdwell
