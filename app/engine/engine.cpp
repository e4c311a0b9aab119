#include "app/engine/engine.h"

#include <algorithm>
#include <optional>
#include <span>
#include <utility>

#include "app/engine/refusal.h"
#include "app/engine/sound_check.h"
#include "app/engine/voice_loudness.h"
#include "app/practice/drill_words.h"
#include "dsp/a_weighting.h"
#include "dsp/listener.h"

namespace holdwell {

namespace {

constexpr Seconds kNoteLength{1.5};
// From the request to the sound leaving the loudspeaker: buffers of common systems, with room to
// spare.
constexpr Seconds kOutputAllowance{400ms};
constexpr Seconds kQuietAfterTone{300ms};  // without voice, before the room counts as quiet
// A noise that came up meanwhile is listened through after this time. A voice is not, nor is a tone
// that takes long to die down: either would be timed from its middle.
constexpr Seconds kLongestNoise{3.0};
constexpr Decibels kDiedDown{6.0};  // over the room

Sought sought_by(DrillKind kind)
{
    switch (kind) {
    case DrillKind::warm_up_hold:
    case DrillKind::ladder_hold:
        return Sought::hold;
    case DrillKind::rising_glide:
        return Sought::glide_up;
    case DrillKind::falling_glide:
        return Sought::glide_down;
    case DrillKind::s_hold:
        return Sought::s_hold;
    case DrillKind::z_hold:
        return Sought::z_hold;
    }
    return Sought::hold;
}

ListeningTask task_for(const Drill& drill)
{
    ListeningTask task{.sought = sought_by(drill.kind), .band = drill.band, .bridge = drill.bridge};
    if (has_target(drill.kind)) task.target = frequency_of(drill.target);
    return task;
}

// The A-weighted level of about a hop: of what came in since the last reading.
class WeightedHop {
public:
    explicit WeightedHop(SampleRate rate) : weighting_{AWeighting::at(rate)} {}

    void push(std::span<const float> samples)
    {
        if (!weighting_) return;
        const auto count = static_cast<double>(samples.size());
        energy_ += weighting_->push(samples) * count;
        count_ += count;
    }
    // Absent without a filter, and when one block completed several hops, but for the first.
    std::optional<Dbfs> take()
    {
        if (!(count_ > 0.0)) return std::nullopt;
        const double energy = std::exchange(energy_, 0.0);
        return level_of(energy / std::exchange(count_, 0.0));
    }

private:
    std::optional<AWeighting> weighting_;
    double energy_{0.0};
    double count_{0.0};
};

}  // namespace

struct Engine::State {
    explicit State(const AnalysisConfig& c) : config{c}, listener{c, ListeningTask{}} {}

    void enter(Stage next);
    void hear(const FrameReading& reading);
    void hear_tone(const FrameReading& reading);
    void hear_trial();
    void check_sound(const FrameReading& reading);
    void play(Hertz f0);
    void play(ToneRequest request);
    void play_note();
    void arm();
    void listen();
    void report(const Heard& heard);
    TrialFinished finished(const Hold& hold) const;
    void watch_processing();

    bool is_judged() const { return stage == Stage::ready || stage == Stage::sounding; }

    AnalysisConfig config;
    Listener listener;
    Drill drill;
    Stage stage{Stage::paused};
    SampleIndex expected{};  // of the next block
    SampleCount lost{};
    SampleIndex now{};  // begin of the newest hop
    SampleIndex tone_end{};
    SampleIndex settling_since{};
    SampleIndex last_sound{};  // of a voice, or while settling of anything
    SampleIndex last_voice{};
    SoundCheck check;
    std::optional<WeightedHop> weighted;  // while the room is being measured
    Stage after_check{Stage::paused};
    Seconds last_so_far{};  // of the trial under way
    VoiceLoudness loudness{config.hop};
    std::optional<MicrophoneProcessing> processing;
    std::vector<Update> updates;
    std::optional<ToneRequest> tone;
    std::shared_ptr<const SoundClip> model;  // played as the note
};

void Engine::State::enter(Stage next)
{
    stage = next;
    updates.push_back(StageChanged{next});
}

void Engine::State::play(Hertz f0) { play(ToneRequest{.f0 = f0, .length = kNoteLength}); }

void Engine::State::play_note()
{
    const Hertz f0 = frequency_of(drill.target);
    if (!model || model->samples.empty()) return play(f0);
    const SampleCount length{static_cast<std::int64_t>(model->samples.size())};
    play(ToneRequest{.f0 = f0, .length = duration_of(length, model->rate), .sound = model});
}

void Engine::State::play(ToneRequest request)
{
    const Seconds whole = request.length + kOutputAllowance;
    tone = std::move(request);
    tone_end = now + samples_in(whole, config.sample_rate);
    enter(Stage::playing);
}

// Ready at once in a quiet room; a voice that already sounds is waited out, not cut in half.
void Engine::State::arm()
{
    const Seconds quiet = duration_of(now - last_sound, config.sample_rate);
    if (last_sound.value == 0 || quiet >= kQuietAfterTone) return listen();
    settling_since = now;
    enter(Stage::settling);
}

void Engine::State::listen()
{
    if (const auto refused = refusal_of(drill, config.sample_rate)) {
        updates.push_back(DrillRefused{drill, *refused});
        return enter(Stage::paused);
    }
    listener.begin_task(task_for(drill));
    loudness.begin_trial();
    enter(Stage::ready);
}

void Engine::State::hear(const FrameReading& reading)
{
    now = reading.hop_begin;
    if (is_voice(reading.phonation)) last_sound = last_voice = now;
    const bool is_loud = reading.hop_level - reading.noise_floor >= kDiedDown;
    if (stage == Stage::settling && is_loud) last_sound = now;
    FrameHeard frame{reading, {}};
    if (is_judged()) frame.under_way = listener.under_way();
    if (frame.under_way) frame.loudness = loudness.push(reading);
    watch_processing();
    updates.push_back(std::move(frame));
    switch (stage) {
    case Stage::playing:
    case Stage::settling:
        hear_tone(reading);
        break;
    case Stage::ready:
    case Stage::sounding:
        hear_trial();
        break;
    case Stage::checking_room:
    case Stage::checking_voice:
        check_sound(reading);
        break;
    case Stage::paused:
    case Stage::finished:
        break;
    }
}

void Engine::State::hear_tone(const FrameReading&)
{
    if (stage == Stage::playing) {
        if (now < tone_end) return;
        settling_since = last_sound = now;
        enter(Stage::settling);
        return;
    }
    const Seconds quiet = duration_of(now - last_sound, config.sample_rate);
    const SampleIndex noise_since = std::max(settling_since, last_voice);
    const Seconds noise = duration_of(now - noise_since, config.sample_rate);
    if (quiet < kQuietAfterTone && noise < kLongestNoise) return;
    listen();
}

void Engine::State::hear_trial()
{
    const std::optional<UnderWay> under_way = listener.under_way();
    const Heard heard = listener.take_finished();
    report(heard);
    if (stage == Stage::finished) return;
    if (under_way) {
        last_so_far = under_way->so_far;
        if (stage == Stage::ready) enter(Stage::sounding);
    } else if (stage == Stage::sounding) {
        updates.push_back(TrialDiscarded{last_so_far});
        enter(Stage::ready);
    }
}

void Engine::State::report(const Heard& heard)
{
    const std::size_t before = updates.size();
    for (const Hold& hold : heard.holds) updates.push_back(finished(hold));
    for (const Glide& glide : heard.glides) updates.push_back(GlideFinished{drill, glide});
    for (const Sibilant& s : heard.s_holds) updates.push_back(SibilantFinished{drill, s});
    for (const Sibilant& z : heard.z_holds) updates.push_back(SibilantFinished{drill, z});
    if (updates.size() > before) enter(Stage::finished);
}

TrialFinished Engine::State::finished(const Hold& hold) const
{
    return {.drill = drill,
            .hold = hold,
            .over_comfortable = loudness.over_comfortable(hold.level),
            .loudness = loudness.of_trial()};
}

void Engine::State::watch_processing()
{
    if (processing == listener.processing()) return;
    processing = listener.processing();
    updates.push_back(ProcessingChanged{processing});
}

void Engine::State::check_sound(const FrameReading& reading)
{
    check.push(reading, weighted ? weighted->take() : std::nullopt);
    if (stage == Stage::checking_room && check.knows_room()) {
        weighted.reset();
        enter(Stage::checking_voice);
    }
    if (const auto result = check.result()) {
        updates.push_back(*result);
        loudness.know_comfortable(result->voice_level);
        if (after_check == Stage::paused) {
            enter(Stage::paused);
        } else {
            arm();
        }
    }
}

Engine::Engine(const AnalysisConfig& config) : state_{std::make_unique<State>(config)} {}
Engine::~Engine() = default;

void Engine::push(const AudioBlock& block)
{
    State& s = *state_;
    if (block.begin > s.expected) {
        const SampleCount gap = block.begin - s.expected;
        s.lost = s.lost + gap;
        s.listener.skip(gap);
        s.updates.push_back(SamplesLost{s.lost});
    }
    s.expected = block.begin + SampleCount{static_cast<std::int64_t>(block.count)};
    const std::span<const float> samples{block.samples.data(), block.count};
    if (s.weighted && s.stage == Stage::checking_room) s.weighted->push(samples);
    s.listener.push(samples, [&s](const FrameReading& reading) { s.hear(reading); });
}

void Engine::apply(const Command& command)
{
    State& s = *state_;
    if (const auto* begin = std::get_if<BeginDrill>(&command)) {
        s.drill = begin->drill;
        s.arm();
    } else if (std::holds_alternative<HearNote>(command)) {
        s.play_note();
    } else if (const auto* heard = std::get_if<HearTone>(&command)) {
        s.play(heard->f0);
    } else if (std::holds_alternative<ArmTrial>(command)) {
        s.arm();
    } else if (std::holds_alternative<PauseListening>(command)) {
        s.enter(Stage::paused);
    } else if (std::holds_alternative<BeginSoundCheck>(command)) {
        s.after_check = s.stage == Stage::paused ? Stage::paused : Stage::ready;
        s.check = SoundCheck{};
        s.weighted.emplace(s.config.sample_rate);
        s.enter(Stage::checking_room);
    } else if (const auto* use = std::get_if<UseOnsetThresholds>(&command)) {
        s.listener.use(use->thresholds);
    } else if (const auto* known = std::get_if<UseComfortableLevel>(&command)) {
        s.loudness.know_comfortable(known->level);
    }
}

void Engine::use_model(std::shared_ptr<const SoundClip> model) { state_->model = std::move(model); }

void Engine::finish()
{
    State& s = *state_;
    s.listener.finish();
    const Heard heard = s.listener.take_finished();
    if (s.is_judged()) s.report(heard);
}

std::vector<Update> Engine::take_updates() { return std::exchange(state_->updates, {}); }

std::optional<ToneRequest> Engine::take_tone_request()
{
    return std::exchange(state_->tone, std::nullopt);
}

}  // namespace holdwell
