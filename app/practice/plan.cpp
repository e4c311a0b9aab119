#include "app/practice/plan.h"

#include <algorithm>

#include "app/practice/drill_words.h"

namespace holdwell {
namespace {

// The notes that one line of the plan asks for; none for glides and hisses.
std::vector<Note> notes_asked(const PlannedDrill& drill, const VoiceNotes& voice)
{
    if (drill.kind == DrillKind::warm_up_hold) return {voice.warm_up};
    if (drill.kind == DrillKind::ladder_hold) return voice.ladder;
    return {};
}

Drill drill_of(const Plan& plan, DrillKind kind)
{
    Drill drill;
    drill.kind = kind;
    drill.band = plan.band;
    drill.bridge = plan.bridge;
    if (has_target(kind) && plan.goal) drill.goal = plan.goal->hold;
    return drill;
}

void append_repetitions(std::vector<PlannedTrial>& trials, const Drill& drill, int repetitions)
{
    for (int i = 1; i <= repetitions; ++i)
        trials.push_back({.drill = drill,
                          .repetition = i,
                          .repetitions = repetitions,
                          .is_maximal = !is_glide(drill.kind)});
}

const TaperStep* present_step(const Plan& plan)
{
    const auto listed = static_cast<std::size_t>(std::max(plan.taper_step, 0));
    if (listed == 0 || listed > plan.taper.steps.size()) return nullptr;
    return &plan.taper.steps[listed - 1];
}

}  // namespace

VoiceNotes notes_of(VoiceSet set)
{
    VoiceNotes notes;
    notes.set = set;
    if (set != VoiceSet::lower) return notes;
    notes.warm_up = kF3;
    for (Note& note : notes.ladder) note.midi -= 12;  // C3 .. G3
    return notes;
}

std::vector<PlannedDrill> drills_now(const Plan& plan)
{
    const TaperStep* step = present_step(plan);
    return step != nullptr ? step->drills : plan.drills;
}

int practices_a_week_now(const Plan& plan)
{
    const TaperStep* step = present_step(plan);
    return step != nullptr ? step->practices_a_week : 7 * plan.practices_a_day;
}

bool PlannedTrial::operator==(const PlannedTrial& other) const
{
    return drill.kind == other.drill.kind && drill.target == other.drill.target &&
           drill.band == other.drill.band && drill.goal == other.drill.goal &&
           drill.bridge == other.drill.bridge && repetition == other.repetition &&
           repetitions == other.repetitions && is_maximal == other.is_maximal;
}

std::vector<PlannedTrial> trials_of(const Plan& plan)
{
    std::vector<PlannedTrial> trials;
    for (const PlannedDrill& planned : drills_now(plan)) {
        Drill drill = drill_of(plan, planned.kind);
        if (!has_target(planned.kind)) append_repetitions(trials, drill, planned.repetitions);
        for (const Note note : notes_asked(planned, plan.voice)) {
            drill.target = note;
            append_repetitions(trials, drill, planned.repetitions);
        }
    }
    return trials;
}

}  // namespace holdwell
