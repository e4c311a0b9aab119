#pragma once
// One drill from samples to judgement: what a microphone hears goes in as blocks, what the person
// chooses goes in as commands, what happened comes out as updates.
//
// Single-threaded and deterministic: time is the sample index. A trial goes
//   ready -> sounding -> finished -> (ArmTrial) -> ready
// and, when the note is asked for,
//   playing -> settling -> ready.
// While a tone of ours sounds and until the room has died down again nothing is judged, so that no
// hold is ever timed from a loudspeaker.

#include <memory>
#include <optional>
#include <vector>

#include "app/engine/audio_block.h"
#include "app/engine/messages.h"
#include "app/engine/sound_keeper.h"
#include "dsp/analysis_config.h"

namespace holdwell {

// A tone that the caller is to play now, and which the engine counts as sounding until `length` and
// the way through the loudspeaker (`kOutputAllowance`) have passed.
struct ToneRequest {
    Hertz f0;
    Seconds length;
    std::shared_ptr<const SoundClip> sound{};  // a recorded voice, instead of the tone
};

class Engine {
public:
    explicit Engine(const AnalysisConfig& config);
    ~Engine();

    void push(const AudioBlock& block);
    void apply(const Command& command);
    // What HearNote plays from now on; null: a tone.
    void use_model(std::shared_ptr<const SoundClip> model);
    // The recording or stream is over: what is under way ends.
    void finish();

    // Everything since the last call, oldest first.
    std::vector<Update> take_updates();
    // A tone asked for since the last call.
    std::optional<ToneRequest> take_tone_request();

private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace holdwell
