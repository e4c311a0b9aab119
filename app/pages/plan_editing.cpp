#include "app/pages/plan_editing.h"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "app/practice/drill_words.h"
#include "app/practice/plan_limits.h"

namespace holdwell {
namespace {

namespace limits = plan_limits;

template <typename Value>
Value kept_in(Value value, Limits<Value> may_be)
{
    return std::clamp(value, may_be.least, may_be.most);
}

// To the next multiple of the step, so that repeated steps land on round figures.
double stepped(double value, double step, int by) { return (std::round(value / step) + by) * step; }

bool is_same_drill(const ModelVoice& a, const ModelVoice& b)
{
    return a.kind == b.kind && a.note == b.note;
}

}  // namespace

void choose_voice(Plan& plan, VoiceSet set)
{
    if (set == VoiceSet::own)
        plan.voice.set = set;
    else
        plan.voice = notes_of(set);
}

void step_warm_up(Plan& plan, int semitones)
{
    plan.voice.warm_up = kept_in(Note{plan.voice.warm_up.midi + semitones}, limits::kNote);
    plan.voice.set = VoiceSet::own;
}

LadderTyped type_ladder(Plan& plan, const std::string& text)
{
    std::vector<Note> ladder;
    std::istringstream words{text};
    for (std::string word; words >> word;) {
        const auto note = parse_note(word);
        if (!note) return LadderTyped::not_notes;
        ladder.push_back(*note);
    }
    if (ladder == plan.voice.ladder) return LadderTyped::taken;
    plan.voice.ladder = std::move(ladder);
    plan.voice.set = VoiceSet::own;
    return LadderTyped::taken;
}

void step_goal(Plan& plan, int by, Date today)
{
    const Seconds now = plan.goal ? plan.goal->hold : Seconds{0.0};
    const Seconds wanted{stepped(now.count(), 1.0, by)};
    plan.goal.reset();
    if (wanted >= limits::kGoal.least)
        plan.goal = Goal{.hold = kept_in(wanted, limits::kGoal),
                         .origin = GoalOrigin::by_hand,
                         .set_on = today,
                         .reasoning = {}};
}

void step_band(Plan& plan, int by)
{
    plan.band = kept_in(Cents{stepped(plan.band.value, 10.0, by)}, limits::kBand);
}

void step_bridge(Plan& plan, int by)
{
    plan.bridge = kept_in(Seconds{stepped(plan.bridge.count(), 0.05, by)}, limits::kBridge);
}

void step_rest(Plan& plan, int by)
{
    plan.rest = kept_in(Seconds{stepped(plan.rest.count(), 5.0, by)}, limits::kRest);
}

void step_practices_a_day(Plan& plan, int by)
{
    plan.practices_a_day = kept_in(plan.practices_a_day + by, limits::kPracticesADay);
    plan.most_practices_a_day = std::max(plan.most_practices_a_day, plan.practices_a_day);
}

void step_most_practices(Plan& plan, int by)
{
    plan.most_practices_a_day = std::clamp(plan.most_practices_a_day + by, plan.practices_a_day,
                                           limits::kMostPracticesADay);
}

void step_weeks(Plan& plan, int by) { plan.weeks = kept_in(plan.weeks + by, limits::kWeeks); }

void step_keep_days(Plan& plan, int by)
{
    plan.keep_audio_days = kept_in(plan.keep_audio_days + 7 * by, limits::kKeepAudioDays);
}

void step_taper_step(Plan& plan, int by)
{
    plan.taper_step =
        std::clamp(plan.taper_step + by, 0, static_cast<int>(plan.taper.steps.size()));
}

void step_met_on_days(Plan& plan, int by)
{
    plan.taper.met_on_days = kept_in(plan.taper.met_on_days + by, limits::kMetOnDays);
}

void step_keep_share(Plan& plan, int by)
{
    plan.taper.keep_share = kept_in(stepped(plan.taper.keep_share, 0.05, by), limits::kKeepShare);
}

void step_repetitions(DrillList& drills, std::size_t at, int by)
{
    if (at < drills.size())
        drills[at].repetitions = kept_in(drills[at].repetitions + by, limits::kRepetitions);
}

std::size_t move_drill(DrillList& drills, std::size_t at, int by)
{
    const bool is_first = at == 0 && by < 0;
    const bool is_last = at + 1 >= drills.size() && by > 0;
    if (at >= drills.size() || is_first || is_last) return at;
    const std::size_t to = by < 0 ? at - 1 : at + 1;
    std::swap(drills[at], drills[to]);
    return to;
}

void remove_drill(DrillList& drills, std::size_t at)
{
    if (at < drills.size() && drills.size() > limits::kDrills.least)
        drills.erase(drills.begin() + static_cast<std::ptrdiff_t>(at));
}

void add_drill(DrillList& drills, DrillKind kind)
{
    if (drills.size() < limits::kDrills.most) drills.push_back({.kind = kind});
}

void add_taper_step(Plan& plan)
{
    auto& steps = plan.taper.steps;
    if (steps.size() >= limits::kTaperSteps.most) return;
    TaperStep step{.name = "Less often", .drills = plan.drills};
    step.practices_a_week = plan.practices_a_day * 7;
    if (!steps.empty()) step = steps.back();
    step.practices_a_week = kept_in(step.practices_a_week / 2, limits::kPracticesAWeek);
    steps.push_back(std::move(step));
}

void remove_taper_step(Plan& plan, std::size_t at)
{
    auto& steps = plan.taper.steps;
    if (at >= steps.size()) return;
    steps.erase(steps.begin() + static_cast<std::ptrdiff_t>(at));
    step_taper_step(plan, 0);
}

void step_practices_a_week(TaperStep& step, int by)
{
    step.practices_a_week = kept_in(step.practices_a_week + by, limits::kPracticesAWeek);
}

void step_days(TaperStep& step, int by) { step.days = kept_in(step.days + by, limits::kStepDays); }

std::vector<ModelVoice> models_wanted(const Plan& plan)
{
    Plan full = plan;
    full.taper_step = 0;
    std::vector<ModelVoice> wanted;
    for (const PlannedTrial& trial : trials_of(full)) {
        ModelVoice model{.kind = trial.drill.kind, .note = {}, .flac = {}};
        if (has_target(model.kind)) model.note = trial.drill.target;
        const bool can_be_sung = model.note || is_glide(model.kind);
        const bool is_there = std::ranges::any_of(
            wanted, [&](const ModelVoice& other) { return is_same_drill(other, model); });
        if (can_be_sung && !is_there) wanted.push_back(model);
    }
    return wanted;
}

const ModelVoice* find_model(const Plan& plan, const ModelVoice& of)
{
    const auto found = std::ranges::find_if(
        plan.models, [&](const ModelVoice& model) { return is_same_drill(model, of); });
    return found == plan.models.end() ? nullptr : &*found;
}

void keep_model(Plan& plan, const ModelVoice& model)
{
    remove_model(plan, model);
    plan.models.push_back(model);
}

void remove_model(Plan& plan, const ModelVoice& of)
{
    std::erase_if(plan.models, [&](const ModelVoice& model) { return is_same_drill(model, of); });
}

Plan begun_from(const Plan& from_template, const Plan& now)
{
    Plan plan = from_template;
    plan.id = now.id;
    plan.revision = now.revision;
    plan.goal = now.goal;
    plan.models.clear();
    for (const ModelVoice& wanted : models_wanted(plan))
        if (const ModelVoice* model = find_model(now, wanted)) plan.models.push_back(*model);
    return plan;
}

}  // namespace holdwell
