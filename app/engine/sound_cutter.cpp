#include "app/engine/sound_cutter.h"

namespace holdwell {

namespace {

constexpr Seconds kLongestTrial{125.0};  // the longest goal, and a little more
constexpr Seconds kAround{0.3};          // of the room, before and after a trial

constexpr const char* kNobodySang = "No voice was heard. Record it once more.";
constexpr const char* kWithoutFiles = "This copy was built without sound files.";

ModelCaptured without_model(const CaptureModel& asked, std::string why)
{
    return {.kind = asked.kind, .note = asked.note, .flac = {}, .trouble = std::move(why)};
}

}  // namespace

void SoundCutter::apply(const KeepClips& keep)
{
    if (keep.keeping == ClipKeeping::off) {
        keeper_.reset();
    } else if (!keeper_) {
        keeper_.emplace(kLongestTrial);
        keeper_->begin(rate_);
    }
}

void SoundCutter::apply(const CaptureModel& capture)
{
    capture_.emplace(Capturing{capture, ModelRecorder{rate_}});
}

void SoundCutter::begin(SampleRate rate)
{
    rate_ = rate;
    if (keeper_) keeper_->begin(rate);
    if (capture_) capture_.emplace(Capturing{capture_->asked, ModelRecorder{rate}});
}

void SoundCutter::push(const AudioBlock& block)
{
    if (keeper_) keeper_->push(block);
    if (capture_) capture_->recorder.push(block);
}

std::optional<Update> SoundCutter::before(const Update& update)
{
    if (const auto* changed = std::get_if<StageChanged>(&update)) stage_ = changed->stage;
    if (const auto* frame = std::get_if<FrameHeard>(&update)) return hear(frame->reading);
    if (const auto* hold = std::get_if<TrialFinished>(&update))
        return cut(hold->hold.onset, hold->hold.offset);
    if (const auto* glide = std::get_if<GlideFinished>(&update))
        return cut(glide->glide.onset, glide->glide.offset);
    if (const auto* sibilant = std::get_if<SibilantFinished>(&update))
        return cut(sibilant->sibilant.onset, sibilant->sibilant.offset);
    return std::nullopt;
}

std::optional<Update> SoundCutter::cut(SampleIndex onset, SampleIndex offset) const
{
    if (!keeper_ || !encode_) return std::nullopt;
    const SampleCount around = samples_in(kAround, rate_);
    const SoundClip clip = keeper_->between(onset - around, offset + around);
    if (clip.samples.empty()) return std::nullopt;
    auto flac = encode_(clip);
    if (!flac) return std::nullopt;  // the measures are what matters
    return Update{ClipCaptured{std::move(flac.value())}};
}

std::optional<Update> SoundCutter::hear(const FrameReading& reading)
{
    // A model is sung, not played by us.
    if (!capture_ || stage_ == Stage::playing || stage_ == Stage::settling) return std::nullopt;
    const CaptureModel asked = capture_->asked;
    const ModelRecorder::State state = capture_->recorder.hear(reading);
    if (state == ModelRecorder::State::nothing_heard) {
        capture_.reset();
        return Update{without_model(asked, kNobodySang)};
    }
    if (state != ModelRecorder::State::done) return std::nullopt;
    const SoundClip clip = capture_->recorder.clip();
    capture_.reset();
    if (clip.has_gap) return Update{without_model(asked, kModelNotWhole)};
    if (!encode_) return Update{without_model(asked, kWithoutFiles)};
    auto flac = encode_(clip);
    if (!flac) return Update{without_model(asked, flac.error().message)};
    return Update{ModelCaptured{
        .kind = asked.kind, .note = asked.note, .flac = std::move(flac.value()), .trouble = {}}};
}

}  // namespace holdwell
