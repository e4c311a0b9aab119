#include "app/ui/view_model.h"

#include <algorithm>
#include <utility>

#include "app/ui/live_hold.h"
#include "app/ui/present.h"
#include "app/ui/routine.h"
#include "dsp/sibilant.h"

namespace holdwell {
namespace {

Drill drill_of(const Preferences& p)
{
    return {.kind = usual_kind_of(p.target), .target = p.target, .band = p.band, .goal = p.goal};
}

LastTrial trial_of(const FinishedHold& finished, SampleRate rate)
{
    LastTrial last;
    last.hold = finished;
    last.line = line_when_finished(finished);
    last.start = finished.hold.start;
    last.octaves_off = finished.hold.octaves_off;
    for (const Interruption& gap : finished.hold.interruptions) {
        const Seconds begin = duration_of(gap.at - finished.hold.onset, rate);
        last.interruptions_at.push_back(begin + gap.duration / 2.0);
    }
    return last;
}

}  // namespace

ViewModel::ViewModel(WindowOptions options, Preferences preferences)
{
    model_.options = std::move(options);
    model_.preferences = std::move(preferences);
    model_.drill = drill_of(model_.preferences);
    model_.capture.playing_demo = model_.options.source == SoundSource::recording;
    if (model_.capture.playing_demo && !model_.options.demos.empty()) {
        model_.drill = model_.options.demos.front().drill;
    }
    if (model_.preferences.cautions == Cautions::unread) {
        model_.screen = Screen::welcome;
    } else if (model_.options.opens_on == OpensOn::page) {
        model_.screen = Screen::page;
    } else {
        begin_drill();
    }
}

void ViewModel::apply(const Update& update)
{
    std::visit([this](const auto& u) { hear(u); }, update);
    tell_run(update);
}

std::vector<Command> ViewModel::take_commands() { return std::exchange(commands_, {}); }

WindowView ViewModel::view() const
{
    WindowView view = present(model_);
    if (model_.screen != Screen::page) return view;
    if (auto page = pages_.view()) {
        if (page->notice.empty()) page->notice = page_notice_;
        view.screen = std::move(*page);
    }
    return view;
}

void ViewModel::hear(const StageChanged& changed)
{
    const Stage before = std::exchange(model_.stage, changed.stage);
    const bool has_sounded = before == Stage::playing && changed.stage != Stage::playing;
    if (has_sounded && model_work_ == ModelWork::hearing) end_model_work();
    if (changed.stage != Stage::paused) model_.ear.refused.reset();
    model_.settling_since.reset();
    if (changed.stage == Stage::settling) model_.settling_since = model_.now;
    if (changed.stage == Stage::finished) {
        if (before != Stage::finished && !run_) model_.rest_since = model_.now;
        return;
    }
    model_.rest_since.reset();
    if (changed.stage == Stage::sounding) {
        model_.discarded.reset();
        return;
    }
    // Between trials the ribbon is clean: the last hold is told in words.
    if (before != changed.stage) {
        model_.hold = {};
        model_.previous_glide = model_.glide.strokes.empty() ? model_.previous_glide : model_.glide;
        model_.glide = {};
    }
}

void ViewModel::hear(const FrameHeard& frame)
{
    model_.now = time_of(frame.reading.hop_begin, model_.capture.rate);
    model_.reading = frame.reading;
    model_.ear = after_frame(std::move(model_.ear), frame, model_.stage);
    model_.meter_lit = meter_steps(frame.reading.level, model_.meter_lit);
    const bool is_judged = model_.stage == Stage::ready || model_.stage == Stage::sounding;
    if (is_judged && is_glide(model_.drill.kind)) {
        model_.glide = after_frame(std::move(model_.glide), frame);
        model_.hold.under_way = frame.under_way;
    } else if (is_judged) {
        model_.hold = after_frame(std::move(model_.hold), frame, model_);
    }
    if (model_.screen == Screen::tolerance) {
        model_.tolerance = after_frame(std::move(model_.tolerance), frame, model_);
    }
    arm_after_rest();
}

void ViewModel::arm_after_rest()
{
    if (!model_.rest_since || model_.screen == Screen::choices || model_.screen == Screen::help) {
        return;
    }
    const bool rests = model_.now - *model_.rest_since < model_.options.rest;
    if (rests && model_.screen != Screen::tolerance) return;
    model_.rest_since.reset();
    post(ArmTrial{});
}

Rank ViewModel::rank_and_keep(const Drill& drill, Seconds length)
{
    const auto key = std::pair{drill.kind, has_target(drill.kind) ? drill.target.midi : 0};
    const auto [place, is_first] = model_.longest.try_emplace(key, length);
    if (is_first) return Rank::first;
    if (rounded_to_tenth(length) <= rounded_to_tenth(place->second)) return Rank::other;
    place->second = length;
    return Rank::longest;
}

void ViewModel::hear(const TrialFinished& finished)
{
    if (model_.screen == Screen::tolerance) return;  // she shows how far off still counts
    const Hold& hold = finished.hold;
    note_start(hold.start);
    FinishedHold told{finished.drill, hold,
                      duration_of(hold.offset - hold.onset, model_.capture.rate)};
    // With samples lost or other sounds along its length is not certain: kept, never a longest.
    if (may_be_a_best(hold)) told.rank = rank_and_keep(finished.drill, told.length);
    told.over_comfortable = finished.over_comfortable;
    told.loudness = finished.loudness;
    model_.last = trial_of(told, model_.capture.rate);
    model_.hold.under_way.reset();
    ++model_.trials_done;
}

void ViewModel::hear(const GlideFinished& finished)
{
    model_.last = LastTrial{};
    model_.last->glide = finished.glide;
    model_.last->line = line_when_glided(finished.glide);
    model_.hold.under_way.reset();
    ++model_.trials_done;
}

void ViewModel::hear(const SibilantFinished& finished)
{
    const Sibilant& s = finished.sibilant;
    const Seconds length = duration_of(s.offset - s.onset, model_.capture.rate);
    model_.last = LastTrial{};
    model_.last->sibilant = length;
    model_.last->line = line_when_hissed(length, rank_and_keep(finished.drill, length));
    if (s.fading_suspected) model_.last->advice = kFadingSentence;
    model_.hold.under_way.reset();
    ++model_.trials_done;
}

void ViewModel::hear(const TrialDiscarded& discarded)
{
    model_.discarded = discarded.duration;
    model_.hold = {};
    model_.glide = {};
}

void ViewModel::hear(const SoundCheckFinished& finished)
{
    model_.sound_check = finished;
    compare_set_up(finished);
}

void ViewModel::hear(const CaptureChanged& changed)
{
    model_.capture.state = changed.state;
    model_.capture.message = changed.message;
    if (!changed.device.empty()) model_.capture.device = changed.device;
    if (changed.sample_rate.hz > 0.0) model_.capture.rate = changed.sample_rate;
    const bool may_leave = model_.screen != Screen::welcome && model_.screen != Screen::help &&
                           model_.screen != Screen::page;
    if (changed.state == CaptureState::no_device && may_leave) enter(Screen::no_microphone);
    if (changed.state == CaptureState::live && model_.screen == Screen::no_microphone) {
        enter(Screen::practice);
        if (!run_) begin_drill();
    }
}

void ViewModel::hear(const SamplesLost& lost) { model_.capture.lost = lost.count; }

void ViewModel::hear(const MicrophonesListed& listed)
{
    model_.microphones.names = listed.names;
    model_.microphones.chosen = listed.chosen;
    const auto here = std::ranges::find(listed.names, listed.chosen);
    const auto row = here == listed.names.end() ? 0 : here - listed.names.begin();
    model_.microphones.focused = static_cast<int>(row);
}

}  // namespace holdwell
