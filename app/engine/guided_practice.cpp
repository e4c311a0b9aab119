#include "app/engine/guided_practice.h"

#include <algorithm>
#include <memory>
#include <utility>

#include "app/practice/drill_words.h"

namespace holdwell {

namespace {

// A hop is shorter; what lies farther apart is no passing of time that was heard.
constexpr Seconds kLongestStep{1.0};

std::string advice_on(const SoundCheckFinished& check)
{
    if (check.clipped_samples > 0)
        return "A little too loud for the microphone: move back a hand's width.";
    if (check.room == RoomVerdict::noisy)
        return "The room is loud beside your voice: close the window, or sit nearer to the "
               "microphone.";
    return {};
}

}  // namespace

GuidedPractice::GuidedPractice(GuideSetup setup, GuidedSounds sounds)
    : guide_{std::move(setup)}, sounds_{std::move(sounds)}
{
    if (sounds_.keeping == ClipKeeping::on) commands_.emplace_back(KeepClips{ClipKeeping::on});
    fulfil_wishes();
}

void GuidedPractice::apply(const Update& update)
{
    std::visit(
        [this](const auto& u) {
            if constexpr (requires { hear(u); }) hear(u);
        },
        update);
    fulfil_wishes();
}

void GuidedPractice::press(GuideKey key)
{
    guide_.apply(key);
    fulfil_wishes();
}

void GuidedPractice::trial_stored()
{
    guide_.apply(TrialStored{});
    fulfil_wishes();
}

void GuidedPractice::rated()
{
    guide_.apply(RatingGiven{});
    fulfil_wishes();
}

std::vector<Command> GuidedPractice::take_commands() { return std::exchange(commands_, {}); }

std::vector<HeardTrial> GuidedPractice::take_trials() { return std::exchange(trials_, {}); }

// ---- what is heard -----------------------------------------------------------------------------

void GuidedPractice::hear(const StageChanged& changed)
{
    switch (changed.stage) {
    case Stage::checking_room:
        return guide_.apply(CheckAsksFor{CheckPart::room});
    case Stage::checking_voice:
        return guide_.apply(CheckAsksFor{CheckPart::voice});
    case Stage::playing:
        return guide_.apply(NoteBegan{});
    case Stage::ready:
        return guide_.apply(ListeningBegan{});
    case Stage::sounding:
        return guide_.apply(VoiceBegan{});
    case Stage::paused:
    case Stage::settling:
    case Stage::finished:
        return;
    }
}

void GuidedPractice::hear(const FrameHeard& frame)
{
    const SampleIndex now = frame.reading.hop_begin;
    const std::optional<SampleIndex> before = std::exchange(last_hop_, now);
    if (!before || now < *before) return;  // a new stream
    const Seconds step = duration_of(now - *before, rate_);
    if (step <= kLongestStep) guide_.apply(StreamAdvanced{step});
}

void GuidedPractice::hear(const TrialFinished& finished)
{
    Measures measures = measures_of(finished.hold, rate_);
    std::get<HoldMeasures>(measures).loudness = finished.over_comfortable;
    guide_.apply(TrialHeard{finished.drill, std::move(measures)});
}

void GuidedPractice::hear(const GlideFinished& finished)
{
    guide_.apply(TrialHeard{finished.drill, measures_of(finished.glide, rate_)});
}

void GuidedPractice::hear(const SibilantFinished& finished)
{
    guide_.apply(TrialHeard{finished.drill, measures_of(finished.sibilant, rate_)});
}

void GuidedPractice::hear(const ClipCaptured& captured) { clip_ = captured.flac; }

void GuidedPractice::hear(const TrialDiscarded&) { guide_.apply(VoiceTooShort{}); }

void GuidedPractice::hear(const DrillRefused& refused)
{
    guide_.apply(TrialImpossible{refused.sentence});
}

void GuidedPractice::hear(const SoundCheckFinished& finished)
{
    SoundCheckSummary summary;
    summary.room = finished.noise_floor;
    summary.voice = finished.voice_level;
    summary.sample_rate = rate_;
    SoundMemory& memory = sounds_.memory;
    memory.last_check = counted_on(memory.last_check, {.microphone = device_,
                                                       .rate = rate_,
                                                       .room = finished.noise_floor,
                                                       .voice = finished.voice_level});
    summary.fingerprint = setup_fingerprint(*memory.last_check, memory.spl);
    guide_.apply(CheckDone{summary, advice_on(finished)});
}

void GuidedPractice::hear(const CaptureChanged& changed)
{
    if (changed.sample_rate.hz > 0.0) rate_ = changed.sample_rate;
    if (!changed.device.empty()) device_ = changed.device;
    switch (changed.state) {
    case CaptureState::live:
        last_hop_.reset();
        return guide_.apply(MicrophoneBack{});
    case CaptureState::lost:
    case CaptureState::no_device:
        return guide_.apply(MicrophoneGone{});
    case CaptureState::recording_ended:
        // Nothing more will be heard: it ends as if it had been stopped.
        guide_.apply(GuideKey::stop);
        return guide_.apply(GuideKey::stop);
    case CaptureState::opening:
    case CaptureState::muted:
        return;
    }
}

// ---- what is to be done ------------------------------------------------------------------------

void GuidedPractice::fulfil_wishes()
{
    for (const GuideWish& wish : guide_.take_wishes()) fulfil(wish);
}

void GuidedPractice::fulfil(const GuideWish& wish)
{
    if (std::holds_alternative<CheckSoundNow>(wish)) {
        // Paused first: the check then leaves it to us what comes after it.
        commands_.emplace_back(PauseListening{});
        commands_.emplace_back(BeginSoundCheck{});
    } else if (const auto* begin = std::get_if<BeginTrial>(&wish)) {
        this->begin(*begin);
    } else if (std::holds_alternative<StopListening>(wish)) {
        commands_.emplace_back(PauseListening{});
    } else if (const auto* store = std::get_if<StoreTrial>(&wish)) {
        trials_.push_back({store->trial, std::exchange(clip_, {})});
    } else if (std::holds_alternative<AskForRating>(wish)) {
        if (sounds_.keeping == ClipKeeping::on) commands_.emplace_back(KeepClips{ClipKeeping::off});
        if (!sounds_.models.empty()) commands_.emplace_back(UseModel{});
    }
}

void GuidedPractice::begin(const BeginTrial& trial)
{
    const auto model = std::ranges::find_if(sounds_.models, [&trial](const ModelVoice& m) {
        return m.kind == trial.drill.kind && (!m.note || *m.note == trial.drill.target);
    });
    const bool has_model = model != sounds_.models.end();
    UseModel use;
    if (has_model) use.flac = std::make_shared<const std::vector<std::byte>>(model->flac);
    if (!sounds_.models.empty()) commands_.emplace_back(use);
    commands_.emplace_back(BeginDrill{trial.drill});
    if (trial.cue == NoteCue::played && (has_target(trial.drill.kind) || has_model))
        commands_.emplace_back(HearNote{});
}

}  // namespace holdwell
