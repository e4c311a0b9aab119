#pragma once
// A guide at work on the live coach: updates of the worker and keys go in, commands for it and
// trials to be kept come out. The window and the terminal run a practice through this class.
//
// Single-threaded and deterministic; the only clock is the stream's.

#include <optional>
#include <string>
#include <vector>

#include "app/engine/messages.h"
#include "app/engine/sound_memory.h"
#include "app/practice/guide.h"

namespace holdwell {

// What sounds besides the voice, and whether the voice is kept as sound.
struct GuidedSounds {
    std::vector<ModelVoice> models{};  // of the plan: played instead of the tone
    ClipKeeping keeping{ClipKeeping::off};
    SoundMemory memory{};  // of earlier days: the set-up of this one is counted on from it
};

struct HeardTrial {
    Trial trial;                  // without an id
    std::vector<std::byte> clip;  // FLAC; empty when no sound is kept
};

class GuidedPractice {
public:
    explicit GuidedPractice(GuideSetup setup, GuidedSounds sounds = {});

    void apply(const Update& update);
    void press(GuideKey key);
    // The oldest trial that was taken is durable, or held in memory for now.
    void trial_stored();
    void rated();

    // Since the last call, oldest first.
    std::vector<Command> take_commands();
    // To be answered by trial_stored(), each.
    std::vector<HeardTrial> take_trials();
    // All trials are through, or it was stopped: the two questions are due.
    bool wants_rating() const { return guide_.phase() == GuidePhase::rating; }

    const Guide& guide() const { return guide_; }
    // With the sound check of this practice, once it was made.
    const SoundMemory& sound_memory() const { return sounds_.memory; }

private:
    void hear(const StageChanged& changed);
    void hear(const FrameHeard& frame);
    void hear(const TrialFinished& finished);
    void hear(const GlideFinished& finished);
    void hear(const SibilantFinished& finished);
    void hear(const TrialDiscarded& discarded);
    void hear(const DrillRefused& refused);
    void hear(const SoundCheckFinished& finished);
    void hear(const CaptureChanged& changed);
    void hear(const ClipCaptured& captured);
    void begin(const BeginTrial& trial);
    void fulfil(const GuideWish& wish);
    void fulfil_wishes();

    Guide guide_;
    SampleRate rate_{48'000.0};
    std::string device_;
    std::optional<SampleIndex> last_hop_;  // of this stream
    std::vector<Command> commands_;
    std::vector<HeardTrial> trials_;
    GuidedSounds sounds_;
    std::vector<std::byte> clip_;  // of the trial that is told next
};

}  // namespace holdwell
