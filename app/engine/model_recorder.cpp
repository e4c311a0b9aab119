#include "app/engine/model_recorder.h"

#include <algorithm>

namespace holdwell {

namespace {

constexpr Seconds kBefore{0.15};  // of the room, so that the beginning is whole
constexpr Seconds kAfter{0.25};
constexpr Seconds kEndsAfter{0.8};   // without voice
constexpr Seconds kLeastVoice{0.3};  // a cough is no model

}  // namespace

ModelRecorder::ModelRecorder(SampleRate rate) : rate_{rate}, keeper_{kLongestModel + kPatience}
{
    keeper_.begin(rate);
}

ModelRecorder::State ModelRecorder::hear(const FrameReading& reading)
{
    if (!is_sung_) return follow(reading);
    const Seconds since = duration_of(reading.hop_begin - clip_end(), rate_);
    return since < AudioBlock::kLossKnownWithin ? State::sounding : State::done;
}

ModelRecorder::State ModelRecorder::follow(const FrameReading& reading)
{
    const SampleIndex now = reading.hop_begin;
    if (!since_) since_ = now;
    // The breath before and after it is no part of a model.
    if (is_voice(reading.phonation)) {
        if (!voice_begin_) voice_begin_ = reading.centre;
        voice_end_ = reading.centre;
    }
    if (!voice_begin_) {
        return duration_of(now - *since_, rate_) > kPatience ? State::nothing_heard
                                                             : State::waiting;
    }
    const bool is_over = duration_of(now - voice_end_, rate_) > kEndsAfter;
    if (is_over && duration_of(voice_end_ - *voice_begin_, rate_) < kLeastVoice) {
        voice_begin_.reset();
        return State::waiting;
    }
    const Seconds room = kLongestModel - kBefore - kAfter;
    const bool is_full = duration_of(now - *voice_begin_, rate_) >= room;
    is_sung_ = is_over || is_full;
    return State::sounding;
}

SoundClip ModelRecorder::clip() const
{
    return is_sung_ ? keeper_.between(clip_begin(), clip_end()) : SoundClip{};
}

SampleIndex ModelRecorder::clip_begin() const { return *voice_begin_ - samples_in(kBefore, rate_); }

SampleIndex ModelRecorder::clip_end() const
{
    const SampleIndex latest = clip_begin() + samples_in(kLongestModel, rate_);
    return std::min(latest, voice_end_ + samples_in(kAfter, rate_));
}

}  // namespace holdwell
