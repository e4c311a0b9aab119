#include "app/engine/worker.h"

#include <utility>

namespace holdwell {

namespace {

// Blocks in one round: 0.6 s of sound, so that a backlog cannot keep a command waiting.
constexpr int kBlocksPerRound = 64;

constexpr SampleRate kRateBeforeAnyDevice{48'000.0};

bool is_hearing(CaptureState state)
{
    return state == CaptureState::live || state == CaptureState::muted;
}

bool looks_the_same(const SourceStatus& a, const SourceStatus& b)
{
    return a.state == b.state && a.device == b.device && a.message == b.message &&
           a.sample_rate == b.sample_rate && a.stream == b.stream;
}

// Something else is to be heard now than a model.
bool wants_the_microphone(const Command& command)
{
    return std::holds_alternative<PauseListening>(command) ||
           std::holds_alternative<BeginDrill>(command) ||
           std::holds_alternative<BeginSoundCheck>(command) ||
           std::holds_alternative<HearNote>(command);
}

std::unique_ptr<Engine> engine_for(SampleRate rate)
{
    return std::make_unique<Engine>(AnalysisConfig{.sample_rate = rate});
}

}  // namespace

void StandingOrders::note(const Command& command)
{
    if (const auto* begin = std::get_if<BeginDrill>(&command)) {
        drill_ = *begin;
        later_.reset();
    } else if (std::holds_alternative<ArmTrial>(command)) {
        later_.reset();  // a drill that begins is armed
    } else if (const auto* use = std::get_if<UseOnsetThresholds>(&command)) {
        thresholds_ = *use;
    } else if (const auto* known = std::get_if<UseComfortableLevel>(&command)) {
        comfortable_ = *known;
    } else if (!std::holds_alternative<HearTone>(command)) {
        later_ = command;
    }
}

void StandingOrders::note(const Update& update)
{
    if (const auto* check = std::get_if<SoundCheckFinished>(&update)) {
        comfortable_ = UseComfortableLevel{check->voice_level};
    }
    if (!later_) return;
    const auto* changed = std::get_if<StageChanged>(&update);
    const bool note_heard = changed != nullptr && changed->stage == Stage::settling &&
                            std::holds_alternative<HearNote>(*later_);
    const bool check_answered = std::holds_alternative<SoundCheckFinished>(update) &&
                                std::holds_alternative<BeginSoundCheck>(*later_);
    if (note_heard || check_answered) later_.reset();
}

std::vector<Command> StandingOrders::to_resume() const
{
    std::vector<Command> commands;
    if (thresholds_) commands.emplace_back(*thresholds_);
    if (comfortable_) commands.emplace_back(*comfortable_);
    if (drill_) commands.emplace_back(*drill_);
    if (later_) commands.push_back(*later_);
    return commands;
}

Worker::Worker(SoundPorts ports)
    : ports_{std::move(ports)}, engine_{engine_for(kRateBeforeAnyDevice)}, cutter_{ports_.encode},
      chosen_{ports_.remembered_microphone()}
{
    ports_.look_for_microphones();
}

void Worker::apply(const Command& command)
{
    if (const auto* choice = std::get_if<ChooseMicrophone>(&command)) {
        choose_microphone(choice->name);
    } else if (std::holds_alternative<ReopenMicrophone>(command)) {
        open_microphone();
    } else if (const auto* recording = std::get_if<PlayRecording>(&command)) {
        play_recording(recording->path);
    } else if (const auto* model = std::get_if<UseModel>(&command)) {
        use_model(*model);
    } else if (const auto* capture = std::get_if<CaptureModel>(&command)) {
        cutter_.apply(*capture);
    } else if (const auto* keep = std::get_if<KeepClips>(&command)) {
        cutter_.apply(*keep);
    } else {
        if (wants_the_microphone(command)) cutter_.cancel_model();
        orders_.note(command);
        engine_->apply(command);
    }
}

void Worker::step()
{
    hear();
    watch_source();
    pass_on_tone();
    pass_on_news();
    collect_from_engine();
}

void Worker::close()
{
    use(nullptr);
    collect_from_engine();
}

Seconds Worker::pace() const
{
    if (!source_) return 50ms;
    return shown_ && is_hearing(shown_->state) ? 5ms : 20ms;
}

std::vector<Update> Worker::take_updates() { return std::exchange(updates_, {}); }

void Worker::hear()
{
    if (!source_) return;
    AudioBlock block;
    for (int i = 0; i < kBlocksPerRound && source_->try_take(block); ++i) {
        cutter_.push(block);
        engine_->push(block);
    }
}

void Worker::watch_source()
{
    if (!source_) return;
    const SourceStatus status = source_->status();
    if (status.stream != stream_ && is_hearing(status.state)) begin_stream(status);
    if (!shown_ || !looks_the_same(status, *shown_)) report(status);
}

void Worker::report(const SourceStatus& status)
{
    const bool was_hearing = shown_ && is_hearing(shown_->state);
    if (was_hearing && !is_hearing(status.state)) end_what_is_under_way();
    updates_.emplace_back(CaptureChanged{.state = status.state,
                                         .device = status.device,
                                         .message = status.message,
                                         .sample_rate = status.sample_rate});
    shown_ = status;
}

void Worker::begin_stream(const SourceStatus& status)
{
    collect_from_engine();
    const bool is_another = heard_from_ && (heard_from_->device != status.device ||
                                            heard_from_->sample_rate != status.sample_rate);
    if (is_another) orders_.forget_levels();
    heard_from_ = status;
    engine_ = engine_for(status.sample_rate);
    cutter_.begin(status.sample_rate);
    engine_->use_model(model_);
    for (const Command& command : orders_.to_resume()) engine_->apply(command);
    stream_ = status.stream;
}

// The engine that is to time the tone may still be to come: it comes with the stream.
void Worker::pass_on_tone()
{
    if (source_ && (!shown_ || shown_->state == CaptureState::opening)) return;
    if (const std::optional<ToneRequest> tone = engine_->take_tone_request()) {
        ports_.play_tone(*tone);
    }
}

void Worker::pass_on_news()
{
    SoundNews news = ports_.take_news();
    if (news.microphones) {
        microphones_ = std::move(*news.microphones);
        updates_.emplace_back(MicrophonesListed{.names = microphones_, .chosen = chosen_});
    }
    if (news.trouble) {
        const SourceStatus now = shown_.value_or(SourceStatus{});
        updates_.emplace_back(CaptureChanged{.state = now.state,
                                             .device = now.device,
                                             .message = *news.trouble,
                                             .sample_rate = now.sample_rate});
    }
}

void Worker::collect_from_engine()
{
    for (Update& update : engine_->take_updates()) {
        orders_.note(update);
        if (auto sound = cutter_.before(update)) updates_.push_back(std::move(*sound));
        updates_.push_back(std::move(update));
    }
}

void Worker::end_what_is_under_way()
{
    engine_->finish();
    collect_from_engine();
}

void Worker::choose_microphone(const std::string& name)
{
    chosen_ = name;
    orders_.forget_levels();
    ports_.remember_microphone(name);
    open_microphone();
    updates_.emplace_back(MicrophonesListed{.names = microphones_, .chosen = chosen_});
}

void Worker::use_model(const UseModel& use)
{
    model_.reset();
    if (use.flac && ports_.decode) {
        auto sound = ports_.decode(*use.flac);
        // The tone stands in for a voice that cannot be read.
        if (sound) model_ = std::make_shared<const SoundClip>(std::move(sound.value()));
    }
    engine_->use_model(model_);
}

void Worker::open_microphone()
{
    use(nullptr);  // the old one is let go first: a device may be open only once
    use(ports_.open_microphone(chosen_));
    ports_.look_for_microphones();
}

void Worker::play_recording(const std::string& path)
{
    Result<std::unique_ptr<AudioSource>> opened = ports_.open_recording(path);
    if (opened) {
        use(std::move(opened.value()));
        return;
    }
    use(nullptr);
    updates_.emplace_back(CaptureChanged{.state = CaptureState::recording_ended,
                                         .device = path,
                                         .message = opened.error().message,
                                         .sample_rate = {}});
}

void Worker::use(std::unique_ptr<AudioSource> source)
{
    if (source_ && shown_ && is_hearing(shown_->state)) end_what_is_under_way();
    source_ = std::move(source);
    shown_.reset();
    stream_ = 0;
}

}  // namespace holdwell
