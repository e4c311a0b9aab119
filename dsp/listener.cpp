#include "dsp/listener.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "dsp/frame_analyzer.h"
#include "dsp/glide.h"
#include "dsp/hold_judge.h"
#include "dsp/onset.h"
#include "dsp/other_sounds.h"
#include "dsp/phonation_timer.h"
#include "dsp/processing.h"
#include "dsp/quality.h"
#include "dsp/sibilant.h"

namespace holdwell {

namespace {

// A gap inside a glide is a pitch break up to this long (dsp/glide.h).
constexpr Seconds kGlideBridge{400ms};
// Noise at least 10 dB below the softest phonation: R. R. Patel et al., Am. J. Speech Lang. Pathol.
// 27, 887-905, 2018 (from memory).
constexpr Decibels kLeastOverRoom{10.0};
constexpr int kClippedOneIn = 10;  // hops; chosen by us

bool is_glide_sought(Sought sought)
{
    return sought == Sought::glide_up || sought == Sought::glide_down;
}

PhonationRule phonation_rule_of(const ListeningTask& task)
{
    if (!is_glide_sought(task.sought)) return {.bridge = task.bridge};
    return {.bridge = std::max(task.bridge, kGlideBridge), .ends_with_breath = false};
}

bool wants_voice(Sought sought) { return sought != Sought::s_hold && sought != Sought::z_hold; }
bool wants_s(Sought sought) { return sought == Sought::any || sought == Sought::s_hold; }
bool wants_z(Sought sought) { return sought == Sought::any || sought == Sought::z_hold; }

}  // namespace

struct Listener::State {
    State(const AnalysisConfig& c, const ListeningTask& t)
        : config{c}, task{t}, analyzer{c}, phonation{c, phonation_rule_of(t)}, sibilants{c},
          onset{c}, quality{c}, others{c}
    {
        pending.reserve(static_cast<std::size_t>(hop_length(c).value));
    }

    void push_hop(std::span<const float> hop, const OnReading& on_reading);
    void take_phonation(const Phonated& phonated);
    void follow_under_way(const FrameReading& reading);
    void doubt_start();
    enum class Ended { by_itself, by_loss };
    void take_sibilants(Ended ended = Ended::by_itself);
    Hold hold_from(const Phonated& phonated);
    std::optional<Doubt> doubt_of(const Hold& hold) const;
    bool is_long_enough(SampleIndex from, SampleIndex to) const
    {
        return duration_of(to - from, config.sample_rate) >= task.shortest;
    }

    AnalysisConfig config;
    ListeningTask task;
    FrameAnalyzer analyzer;
    PhonationTimer phonation;
    SibilantTimer sibilants;
    OnsetMeter onset;
    QualityMeter quality;
    ProcessingWatch processing;
    OtherSounds others;
    int hops_heard{0};  // of the voice under way
    int hops_clipped{0};
    std::vector<float> pending;
    SampleIndex position{};
    std::optional<Onset> start;  // of the phonation under way, once it is known
    bool start_doubted{false};   // processing was heard by now: it is unsure
    Seconds in_band{};
    bool voice_under_way{false};
    Heard heard;
};

void Listener::State::push_hop(std::span<const float> hop, const OnReading& on_reading)
{
    const FrameReading reading = analyzer.push(hop);
    onset.push(hop, reading);
    processing.push(reading);
    others.push(hop, reading);
    if (wants_voice(task.sought)) {
        phonation.push(reading);
        follow_under_way(reading);
        if (voice_under_way) quality.push(hop, reading);
        for (const Phonated& p : phonation.take_finished()) take_phonation(p);
    }
    sibilants.push(analyzer.frication(),
                   is_voice(reading.phonation) ? Pitch::present : Pitch::absent);
    take_sibilants();
    if (on_reading) on_reading(reading);
}

// Measures that are taken while the voice sounds.
void Listener::State::follow_under_way(const FrameReading& reading)
{
    const auto now = phonation.under_way();
    if (!now) {
        voice_under_way = false;
        return;
    }
    if (!voice_under_way) {
        voice_under_way = true;
        start.reset();
        start_doubted = false;
        in_band = Seconds{};
        hops_heard = hops_clipped = 0;
        others.begin();
        quality.reset();
    }
    if (reading.f0 && task.target &&
        std::abs(interval_between(*task.target, *reading.f0).value) <= task.band.value) {
        in_band += config.hop;
    }
    ++hops_heard;
    if (reading.clipped_samples > 0) ++hops_clipped;
    const Seconds age = duration_of(position - now->onset, config.sample_rate);
    if (age < OnsetMeter::kSettle) return;
    if (!start) start = onset.measure(now->onset);
    doubt_start();
}

// What the system is heard to do later in a hold, it did at its beginning as well.
void Listener::State::doubt_start()
{
    const auto processed = processing.heard();
    if (!start || !processed || start_doubted) return;
    start = Onset{};
    start->reason = reason_for(*processed);
    start_doubted = true;
}

Hold Listener::State::hold_from(const Phonated& phonated)
{
    Hold hold = measure_hold(phonated, task, config);
    doubt_start();
    if (start) hold.start = *start;
    hold.quality = quality.result();
    hold.like_a_machine = is_like_a_machine(phonated.contour);
    hold.doubt = doubt_of(hold);
    return hold;
}

// The gravest first.
std::optional<Doubt> Listener::State::doubt_of(const Hold& hold) const
{
    if (others.heard()) return Doubt::several_sounds;
    if (hold.like_a_machine) return Doubt::machine;
    if (hold.snr < kLeastOverRoom) return Doubt::noisy_room;
    if (hops_clipped * kClippedOneIn >= hops_heard && hops_clipped > 0) return Doubt::overloaded;
    return std::nullopt;
}

void Listener::State::take_phonation(const Phonated& phonated)
{
    voice_under_way = false;
    if (!is_long_enough(phonated.onset, phonated.offset)) return;
    const SampleRate rate = config.sample_rate;
    const bool glides = task.sought != Sought::hold && travels(phonated.contour, rate);
    if (glides) {
        Glide glide = measure_glide(phonated.contour, rate);
        glide.onset = phonated.onset;
        glide.offset = phonated.offset;
        glide.fry = phonated.fry;
        glide.has_gap = phonated.has_gap;
        heard.glides.push_back(std::move(glide));
    } else if (!is_glide_sought(task.sought) && is_sustained(phonated, rate)) {
        heard.holds.push_back(hold_from(phonated));
    }
}

void Listener::State::take_sibilants(Ended ended)
{
    const auto keep = [&](Sibilant sibilant, std::vector<Sibilant>& kept) {
        if (!is_long_enough(sibilant.onset, sibilant.offset)) return;
        sibilant.has_gap = ended == Ended::by_loss;
        kept.push_back(sibilant);
    };
    const SibilantsHeard found = sibilants.take_finished();
    for (const Sibilant& s : found.s_holds) {
        if (wants_s(task.sought)) keep(s, heard.s_holds);
    }
    for (const Sibilant& z : found.z_holds) {
        if (wants_z(task.sought)) keep(z, heard.z_holds);
    }
}

Listener::Listener(const AnalysisConfig& config, const ListeningTask& task)
    : state_{std::make_unique<State>(config, task)}
{
}
Listener::~Listener() = default;
Listener::Listener(Listener&&) noexcept = default;
Listener& Listener::operator=(Listener&&) noexcept = default;

void Listener::push(std::span<const float> samples, const OnReading& on_reading)
{
    State& s = *state_;
    const auto hop = static_cast<std::size_t>(hop_length(s.config).value);
    while (!samples.empty()) {
        const std::size_t taken = std::min(samples.size(), hop - s.pending.size());
        s.pending.insert(s.pending.end(), samples.begin(),
                         samples.begin() + static_cast<std::ptrdiff_t>(taken));
        samples = samples.subspan(taken);
        s.position = s.position + SampleCount{static_cast<std::int64_t>(taken)};
        if (s.pending.size() < hop) return;
        s.push_hop(s.pending, on_reading);
        s.pending.clear();
    }
}

void Listener::skip(SampleCount lost)
{
    State& s = *state_;
    // What waits for its hop to be complete is lost with the rest.
    const SampleCount all = lost + SampleCount{static_cast<std::int64_t>(s.pending.size())};
    s.pending.clear();
    s.position = s.position + lost;
    s.analyzer.skip(all);
    s.phonation.skip(all);
    s.sibilants.finish();
    s.take_sibilants(State::Ended::by_loss);
    s.onset.skip(all);
    s.processing.skip();
}

void Listener::finish()
{
    State& s = *state_;
    s.phonation.finish();
    for (const Phonated& p : s.phonation.take_finished()) s.take_phonation(p);
    s.sibilants.finish();
    s.take_sibilants();
}

void Listener::begin_task(const ListeningTask& task)
{
    State& s = *state_;
    s.task = task;
    s.phonation = PhonationTimer{s.config, phonation_rule_of(task)};
    s.sibilants.finish();
    (void)s.sibilants.take_finished();
    s.voice_under_way = false;
    s.start.reset();
    s.heard = {};  // what ended before belongs to no task
}

std::optional<UnderWay> Listener::under_way() const
{
    const State& s = *state_;
    if (!wants_voice(s.task.sought)) {
        const auto hiss = s.sibilants.under_way();
        if (!hiss) return std::nullopt;
        return UnderWay{.onset = hiss->onset, .so_far = hiss->so_far};
    }
    const auto voice = s.phonation.under_way();
    if (!voice) return std::nullopt;
    UnderWay now{
        .onset = voice->onset,
        .so_far = duration_of(voice->last_voiced - voice->onset, s.config.sample_rate),
        .in_band = s.in_band,
        .interruptions = voice->gaps,
        .start = s.start,
    };
    const std::vector<ContourPoint>& contour = s.phonation.contour();
    if (s.task.target && !contour.empty() && contour.back().f0) {
        now.octaves_off = octaves_off(*s.task.target, *contour.back().f0, s.task.band);
    }
    return now;
}

void Listener::use(const OnsetThresholds& thresholds) { state_->onset.use(thresholds); }

std::optional<MicrophoneProcessing> Listener::processing() const
{
    return state_->processing.heard();
}

Heard Listener::take_finished() { return std::exchange(state_->heard, {}); }

SampleIndex Listener::position() const { return state_->position; }

}  // namespace holdwell
