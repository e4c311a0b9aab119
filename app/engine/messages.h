#pragma once
// What passes between the worker and the window: commands in, updates out. Plain values.

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "app/practice/drill.h"
#include "dsp/frame_reading.h"
#include "dsp/hold.h"
#include "dsp/listener.h"
#include "dsp/onset.h"
#include "dsp/processing.h"

namespace holdwell {

// ---- window -> worker ----------------------------------------------------------------------

struct BeginDrill {  // plays nothing; the next trial is armed at once
    Drill drill;
};
struct HearNote {};  // play the drill's note, then listen once the room has died down
struct HearTone {    // any other tone, e.g. the edge of the band
    Hertz f0;
};
struct ArmTrial {};         // listen for the next trial, without a tone
struct PauseListening {};   // keep the microphone, judge nothing
struct BeginSoundCheck {};  // measure the room, then a comfortable voice
struct ChooseMicrophone {   // by name; empty: the system's own choice
    std::string name;
};
struct ReopenMicrophone {};
struct PlayRecording {  // a file through the same pipeline, in real time
    std::string path;
};
// Names beginnings by these from now on: a personal baseline (dsp/onset_baseline.h).
struct UseOnsetThresholds {
    OnsetThresholds thresholds;
};
// The client's own comfortable voice on this microphone, as an earlier sound check found it;
// absent: not known, and loudness is not judged. A sound check sets it by itself.
struct UseComfortableLevel {
    std::optional<Dbfs> level;
};
// What HearNote plays from now on: a FLAC file of a voice, or nothing for the tone.
struct UseModel {
    std::shared_ptr<const std::vector<std::byte>> flac;
};
// Records the next voice as a model for that drill; ModelCaptured brings it. PauseListening gives
// it up.
struct CaptureModel {
    DrillKind kind{DrillKind::warm_up_hold};
    std::optional<Note> note;
};
// Whether the sound of each trial comes with it, as ClipCaptured just before the trial's own
// update.
enum class ClipKeeping { off, on };
struct KeepClips {
    ClipKeeping keeping{ClipKeeping::off};
};
using Command =
    std::variant<BeginDrill, HearNote, HearTone, ArmTrial, PauseListening, BeginSoundCheck,
                 ChooseMicrophone, ReopenMicrophone, PlayRecording, UseOnsetThresholds,
                 UseComfortableLevel, UseModel, CaptureModel, KeepClips>;

// ---- worker -> window ----------------------------------------------------------------------

// What the engine is doing. The order is that of one trial.
enum class Stage {
    paused,          // listening to nothing
    playing,         // the note sounds; the microphone is not judged
    settling,        // the note has ended, the room has not yet
    ready,           // waiting for the client to begin
    sounding,        // a hold is under way
    finished,        // a hold has ended; TrialFinished came with it
    checking_room,   // sound check: silence asked for
    checking_voice,  // sound check: a comfortable note asked for
};

struct StageChanged {
    Stage stage{Stage::paused};
};
// How loud the trial under way is beside the comfortable voice.
enum class Loudness { unknown, as_asked, much_louder };

struct FrameHeard {  // one a hop
    FrameReading reading;
    std::optional<UnderWay> under_way;
    Loudness loudness{Loudness::unknown};
};
struct TrialFinished {
    Drill drill;
    Hold hold;
    std::optional<Decibels> over_comfortable{};  // louder positive; absent before a sound check
    Loudness loudness{Loudness::unknown};        // much_louder: at some time during the hold
};
struct GlideFinished {
    Drill drill;
    Glide glide;
};
struct SibilantFinished {  // an /s/ or a /z/: the drill's kind says which
    Drill drill;
    Sibilant sibilant;
};
// Something was sung that is not a trial: too short, or interrupted at once.
struct TrialDiscarded {
    Seconds duration{};
};
// The drill cannot be done on this microphone; Stage::paused comes with it.
struct DrillRefused {
    Drill drill;
    std::string sentence;  // why, and what to do
};
// Processing by the system was heard, or is no longer: while it is, beginnings are unsure
// (dsp/processing.h).
struct ProcessingChanged {
    std::optional<MicrophoneProcessing> heard;
};
enum class RoomVerdict { quiet, usable, noisy };
struct SoundCheckFinished {
    Dbfs noise_floor;
    Dbfs voice_level;
    Decibels snr;
    int clipped_samples{0};
    RoomVerdict room{RoomVerdict::quiet};
    // Of the room alone; absent at a sample rate without a filter (dsp/a_weighting.h).
    std::optional<Dbfs> a_weighted_room{};
};
enum class CaptureState { opening, live, no_device, lost, muted, recording_ended };
struct CaptureChanged {
    CaptureState state{CaptureState::opening};
    std::string device;   // its name as shown; a file's name for a recording
    std::string message;  // one sentence for the person, empty when all is well
    SampleRate sample_rate{};
};
struct SamplesLost {
    SampleCount count;  // in all since the stream began
};
struct MicrophonesListed {
    std::vector<std::string> names;
    std::string chosen;
};
struct ClipCaptured {
    std::vector<std::byte> flac;
};
struct ModelCaptured {
    DrillKind kind{DrillKind::warm_up_hold};
    std::optional<Note> note;
    std::vector<std::byte> flac;  // empty: it did not come to one
    std::string trouble;          // why, and what to do
};
using Update =
    std::variant<StageChanged, FrameHeard, TrialFinished, GlideFinished, SibilantFinished,
                 TrialDiscarded, DrillRefused, ProcessingChanged, SoundCheckFinished,
                 CaptureChanged, SamplesLost, MicrophonesListed, ClipCaptured, ModelCaptured>;

}  // namespace holdwell
