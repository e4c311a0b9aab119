#include "app/practice/guide.h"

#include <algorithm>
#include <utility>

#include "app/practice/drill_words.h"

namespace holdwell {
namespace {

constexpr int kBaselineTrials = 3;  // the best of three: common practice

bool asks_the_same(const Drill& drill, const Drill& other)
{
    return drill.kind == other.kind && (!has_target(drill.kind) || drill.target == other.target);
}

bool is_of(const Trial& trial, const PlannedTrial& planned)
{
    if (trial.kind != planned.drill.kind || trial.repetition != planned.repetition) return false;
    return !has_target(trial.kind) || trial.target == planned.drill.target;
}

// A hold that was cut off with the microphone is kept, but says nothing of the breath.
Measures with_gap_where_cut(Measures measures)
{
    auto* hold = std::get_if<HoldMeasures>(&measures);
    if (hold != nullptr && hold->ended_by == HoldEnd::stream_ended) hold->has_gap = true;
    return measures;
}

bool was_cut(const Measures& measures)
{
    const auto* hold = std::get_if<HoldMeasures>(&measures);
    return hold != nullptr && hold->ended_by == HoldEnd::stream_ended;
}

bool sounds_like_a_machine(const Measures& measures)
{
    const auto* hold = std::get_if<HoldMeasures>(&measures);
    return hold != nullptr && hold->doubt == Doubt::machine && !was_cut(measures);
}

Seconds length_of(const Measures& measures)
{
    if (const auto* hold = std::get_if<HoldMeasures>(&measures)) return hold->hold_time;
    if (const auto* glide = std::get_if<GlideMeasures>(&measures)) return glide->length;
    return std::get<SibilantMeasures>(measures).length;
}

}  // namespace

bool is_judging(GuidePhase phase)
{
    return phase == GuidePhase::cue || phase == GuidePhase::listening ||
           phase == GuidePhase::sounding;
}

GuideSetup guide_setup_of(const Plan& plan, std::vector<Trial> already)
{
    return {.trials = trials_of(plan),
            .rest = plan.rest,
            .cue = plan.cue,
            .already = std::move(already)};
}

GuideSetup baseline_setup(BaselineSounds sounds)
{
    GuideSetup setup;
    std::vector<DrillKind> kinds{DrillKind::s_hold};
    if (sounds == BaselineSounds::s_and_z) kinds.push_back(DrillKind::z_hold);
    for (const DrillKind kind : kinds) {
        PlannedTrial planned;
        planned.drill.kind = kind;
        planned.repetitions = kBaselineTrials;
        planned.is_maximal = true;
        for (planned.repetition = 1; planned.repetition <= kBaselineTrials; ++planned.repetition) {
            setup.trials.push_back(planned);
        }
    }
    return setup;
}

Guide::Guide(GuideSetup setup) : setup_{std::move(setup)}, done_(setup_.trials.size(), false)
{
    take_up(setup_.already);
    if (all_done()) finish(Completion::complete);
}

// A practice is gone through in order, so a kept trial belongs to the planned one reached last
// (done once more) or to the next of its kind after it.
void Guide::take_up(const std::vector<Trial>& already)
{
    for (const Trial& trial : already) {
        ++kept_;
        numbers_ = std::max(numbers_, trial.number);
        elapsed_ = std::max(elapsed_, trial.begun + length_of(trial.measures));
        if (last_ && is_of(trial, setup_.trials[*last_])) {
            if (!was_cut(trial.measures)) done_[*last_] = true;  // cut off, then done once more
            continue;
        }
        for (std::size_t i = last_ ? *last_ + 1 : 0; i < setup_.trials.size(); ++i) {
            if (!is_of(trial, setup_.trials[i])) continue;
            done_[i] = !was_cut(trial.measures);
            last_ = i;
            break;
        }
    }
    // How long ago that was is not known here.
    if (last_ && setup_.trials[*last_].is_maximal) breath_ended_ = elapsed_;
    went_on_ = !already.empty();
    at_ = last_ ? (done_[*last_] ? *last_ + 1 : *last_) : 0;
}

void Guide::apply(const GuideEvent& event)
{
    if (phase_ == GuidePhase::over && !std::holds_alternative<TrialStored>(event)) return;
    std::visit([this](const auto& e) { hear(e); }, event);
}

std::vector<GuideWish> Guide::take_wishes() { return std::exchange(wishes_, {}); }

const PlannedTrial* Guide::current() const
{
    return at_ < setup_.trials.size() ? &setup_.trials[at_] : nullptr;
}

bool Guide::all_done() const
{
    return std::ranges::all_of(done_, [](bool d) { return d; });
}

Completion Guide::completion() const
{
    if (ended_) return *ended_;
    return all_done() ? Completion::complete : Completion::under_way;
}

bool Guide::is_aside() const
{
    return phase_ == GuidePhase::paused || phase_ == GuidePhase::asks_to_stop ||
           phase_ == GuidePhase::no_microphone;
}

// ---- what happens by itself --------------------------------------------------------------------

void Guide::hear(const StreamAdvanced& advanced)
{
    elapsed_ += advanced.by;
    waited_ += advanced.by;
    switch (phase_) {
    case GuidePhase::posture:
        if (setup_.opening == GuideSetup::Opening::at_once) return begin_trial();
        if (waited_ >= kPostureTime) begin_check();
        return;
    case GuidePhase::sound_check:
        if (waited_ >= kLongestSoundCheck) begin_trial();
        return;
    case GuidePhase::listening:
        if (waited_ >= kSilenceToPause) pause(PauseReason::silence);
        return;
    case GuidePhase::resting:
        if (waited_ >= rest_ && unstored_ == 0) go_on_after_rest();
        return;
    default:
        return;
    }
}

void Guide::begin_check()
{
    if (check_) return begin_trial();
    phase_ = GuidePhase::sound_check;
    check_part_ = CheckPart::room;
    waited_ = {};
    wishes_.emplace_back(CheckSoundNow{});
}

void Guide::hear(const CheckAsksFor& asks)
{
    if (phase_ == GuidePhase::sound_check) check_part_ = asks.part;
}

void Guide::hear(const CheckDone& done)
{
    if (phase_ != GuidePhase::sound_check) return;
    check_ = done.summary;
    advice_ = done.advice;
    begin_trial();
}

void Guide::begin_trial()
{
    const PlannedTrial* planned = current();
    if (planned == nullptr) return finish(completion());
    set_aside_.reset();
    if (rests_first()) return;
    const bool plays = setup_.cue == NoteCue::played && has_target(planned->drill.kind);
    phase_ = plays ? GuidePhase::cue : GuidePhase::listening;
    waited_ = {};
    short_sounds_ = 0;
    refusal_.clear();
    wishes_.emplace_back(BeginTrial{planned->drill, setup_.cue});
}

void Guide::hear(const NoteBegan&)
{
    if (is_judging(phase_)) phase_ = GuidePhase::cue;
}

void Guide::hear(const ListeningBegan&)
{
    if (!is_judging(phase_)) return;
    phase_ = GuidePhase::listening;
    waited_ = {};
}

void Guide::hear(const VoiceBegan&)
{
    if (!is_judging(phase_)) return;
    phase_ = GuidePhase::sounding;
    voice_at_ = elapsed_;
}

void Guide::hear(const VoiceTooShort&)
{
    if (!is_judging(phase_)) return;
    phase_ = GuidePhase::listening;
    waited_ = {};
    if (++short_sounds_ >= kShortSoundsToPause) pause(PauseReason::short_sounds);
}

// What was heard belongs to the trial shown or, when a key was pressed at that moment, to the one
// before it: it is kept all the same.
std::optional<std::size_t> Guide::planned_for(const Drill& drill) const
{
    for (std::size_t i = std::min(at_ + 1, setup_.trials.size()); i > 0; --i) {
        if (asks_the_same(setup_.trials[i - 1].drill, drill)) return i - 1;
    }
    return std::nullopt;
}

void Guide::hear(const TrialHeard& heard)
{
    const std::optional<std::size_t> planned = planned_for(heard.drill);
    if (!planned) return;
    const bool expected = is_judging(phase_) && *planned == at_;
    const bool was_expected = is_aside() && is_judging(aside_) && *planned == at_;
    if (sounds_like_a_machine(heard.measures)) {
        if (expected || was_expected) set_aside(*planned, heard.measures);
        return;
    }
    store(*planned, heard.measures);
    if (was_cut(heard.measures)) return;  // the microphone is gone; it is asked for once more
    done_[*planned] = true;
    if (expected) return move_on_from(*planned);
    if (was_late(*planned)) return;
    if (!was_expected) return;
    const GuidePhase before = phase_;
    move_on_from(*planned);
    go_on_resting_unless_aside(before);
}

// She pressed a key as it ended: there is nothing to come back to but the rest.
void Guide::go_on_resting_unless_aside(GuidePhase before)
{
    if (!is_judging(before)) aside_ = std::exchange(phase_, before);
}

void Guide::move_on_from(std::size_t planned)
{
    repeats_ = false;
    at_ = planned + 1;
    begin_rest(setup_.trials[planned].is_maximal ? setup_.rest : kShortRest);
}

void Guide::store(std::size_t planned, const Measures& measures)
{
    const PlannedTrial& asked = setup_.trials[planned];
    Trial trial;
    trial.number = ++numbers_;
    trial.kind = asked.drill.kind;
    if (has_target(asked.drill.kind)) trial.target = asked.drill.target;
    trial.repetition = asked.repetition;
    trial.goal = asked.drill.goal;
    trial.band = asked.drill.band;
    trial.begun = std::max(Seconds{}, std::min(voice_at_, elapsed_));
    trial.measures = with_gap_where_cut(measures);
    if (asked.is_maximal) breath_ended_ = elapsed_;
    last_ = planned;
    ++kept_;
    ++unstored_;
    wishes_.emplace_back(StoreTrial{std::move(trial)});
}

void Guide::hear(const TrialStored&) { unstored_ = std::max(0, unstored_ - 1); }

void Guide::begin_rest(Seconds length)
{
    // After the last one there is nothing to rest for, only something to read.
    rest_ = current() == nullptr ? kShortRest : length;
    phase_ = GuidePhase::resting;
    waited_ = {};
}

void Guide::go_on_after_rest()
{
    if (current() == nullptr) return finish(completion());
    begin_trial();
}

void Guide::hear(const TrialImpossible& impossible)
{
    if (!is_judging(phase_)) return;
    at_ = at_ + 1;
    begin_rest(kShortRest * 2.0);
    refusal_ = impossible.sentence;
}

// ---- aside and back ----------------------------------------------------------------------------

void Guide::step_aside(GuidePhase to)
{
    note_breath();
    if (!is_aside()) aside_ = phase_;
    phase_ = to;
    wishes_.emplace_back(StopListening{});
}

void Guide::come_back()
{
    const Seconds rested = waited_;
    phase_ = aside_;
    switch (phase_) {
    case GuidePhase::sound_check:
        return begin_check();
    case GuidePhase::cue:
    case GuidePhase::listening:
    case GuidePhase::sounding:
        return begin_trial();
    default:
        // Time aside is rest as well.
        waited_ = rested;
        return;
    }
}

void Guide::pause(PauseReason reason)
{
    reason_ = reason;
    step_aside(GuidePhase::paused);
}

void Guide::hear(const MicrophoneGone&)
{
    if (phase_ == GuidePhase::rating || phase_ == GuidePhase::paused) return;
    step_aside(GuidePhase::no_microphone);
}

void Guide::hear(const MicrophoneBack&)
{
    if (phase_ == GuidePhase::no_microphone) come_back();
}

// ---- the end -----------------------------------------------------------------------------------

void Guide::finish(Completion completion)
{
    if (completion == Completion::under_way) completion = Completion::partial;  // some were skipped
    ended_ = all_done() && completion == Completion::partial ? Completion::complete : completion;
    phase_ = GuidePhase::rating;
    wishes_.emplace_back(StopListening{});
    wishes_.emplace_back(AskForRating{});
}

void Guide::hear(const RatingGiven&)
{
    if (phase_ == GuidePhase::rating) phase_ = GuidePhase::over;
}

}  // namespace holdwell
