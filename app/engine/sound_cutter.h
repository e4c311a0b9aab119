#pragma once
// Cuts out of the stream what is to be kept as sound: a therapist's model, and, with the client's
// consent, her trials. Nothing is kept in memory while neither is asked for.

#include <functional>
#include <memory>
#include <optional>

#include "app/base/result.h"
#include "app/engine/messages.h"
#include "app/engine/model_recorder.h"

namespace holdwell {

// What to tell a therapist in whose model samples were lost: a client would imitate the click, or a
// pitch that nobody sang.
inline constexpr const char* kModelNotWhole =
    "Some of the sound was lost by the computer, so it was not kept: record it once more.";

using EncodeSound = std::function<Result<std::vector<std::byte>>(const SoundClip&)>;

class SoundCutter {
public:
    // Without a way to encode nothing is cut out.
    explicit SoundCutter(EncodeSound encode) : encode_{std::move(encode)} {}

    void apply(const KeepClips& keep);
    void apply(const CaptureModel& capture);
    void cancel_model() { capture_.reset(); }
    // A new stream: what is under way is lost.
    void begin(SampleRate rate);
    void push(const AudioBlock& block);
    // What is to be told before this update of the engine: the sound of the trial it ends, or the
    // model that is whole with it.
    std::optional<Update> before(const Update& update);

private:
    struct Capturing {
        CaptureModel asked;
        ModelRecorder recorder;
    };
    std::optional<Update> cut(SampleIndex onset, SampleIndex offset) const;
    std::optional<Update> hear(const FrameReading& reading);

    EncodeSound encode_;
    SampleRate rate_{48'000.0};
    Stage stage_{Stage::paused};
    std::optional<SoundKeeper> keeper_;  // while clips are kept
    std::optional<Capturing> capture_;
};

}  // namespace holdwell
