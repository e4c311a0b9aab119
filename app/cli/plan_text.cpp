#include "app/cli/plan_text.h"

#include <fmt/format.h>

#include <string_view>

#include "app/practice/day_text.h"
#include "app/practice/drill_words.h"

namespace holdwell {

namespace {

std::string line(std::string_view what, const std::string& value)
{
    return fmt::format("  {:<13}{}\n", what, value);
}

std::string notes_in_words(const std::vector<Note>& notes)
{
    std::string text;
    for (const Note note : notes) {
        if (!text.empty()) text += ' ';
        text += name_of(note);
    }
    return text;
}

std::string drill_in_words(const PlannedDrill& drill, const VoiceNotes& voice)
{
    const std::string times =
        drill.repetitions == 1 ? "once" : fmt::format("{} times", drill.repetitions);
    if (drill.kind == DrillKind::ladder_hold)
        return fmt::format("{} on {}, {} each", name_of(drill.kind), notes_in_words(voice.ladder),
                           times);
    if (drill.kind == DrillKind::warm_up_hold)
        return fmt::format("{} on {}, {}", name_of(drill.kind), name_of(voice.warm_up), times);
    return fmt::format("{}, {}", name_of(drill.kind), times);
}

std::string origin_in_words(GoalOrigin origin)
{
    switch (origin) {
    case GoalOrigin::s_baseline:
        return "from the /s/ baseline";
    case GoalOrigin::volume_over_flow:
        return "from volume and flow";
    case GoalOrigin::by_hand:
        return "set by hand";
    }
    return {};
}

std::string goal_in_words(const std::optional<Goal>& goal)
{
    if (!goal) return "none: as long as the breath is easy";
    std::string text =
        fmt::format("{}, {}", short_seconds(goal->hold), origin_in_words(goal->origin));
    if (goal->set_on.ok()) text += " on " + day_text(goal->set_on, {});
    if (!goal->reasoning.empty()) text += fmt::format(" ({})", goal->reasoning);
    return text;
}

std::string band_in_words(const Plan& plan)
{
    return fmt::format("\u00b1 {:g} cents; {}", plan.band.value,
                       plan.counts == HoldCounts::all_phonation
                           ? "all of a hold counts towards the goal"
                           : "only time in the band counts towards the goal");
}

std::string cues_in_words(const Plan& plan)
{
    return fmt::format("{}; the pitch line is {}",
                       plan.cue == NoteCue::played ? "each note is played" : "no note is played",
                       plan.pitch_line == PitchLine::shown ? "shown" : "hidden");
}

std::string keeps_in_words(const Plan& plan)
{
    if (plan.keeps == Keeps::measures_only) return "measures only";
    return fmt::format("measures, and the voice for {} days if the client consents",
                       plan.keep_audio_days);
}

std::string taper_in_words(const Plan& plan)
{
    if (plan.taper.steps.empty()) return "none";
    const std::string now =
        plan.taper_step == 0 ? "not begun" : fmt::format("at step {}", plan.taper_step);
    return fmt::format("{} {}, {}; offered when goals are met on {} days", plan.taper.steps.size(),
                       plan.taper.steps.size() == 1 ? "step" : "steps", now,
                       plan.taper.met_on_days);
}

std::string head_of(const Plan& plan)
{
    const std::string written =
        plan.written.ok() ? ", written on " + day_text(plan.written, {}) : "";
    return fmt::format("{} (revision {}{})\n", plan.title, plan.revision, written);
}

}  // namespace

std::string text_of_plan(const Plan& plan)
{
    std::string text = head_of(plan);
    for (std::size_t i = 0; i < plan.drills.size(); ++i)
        text += line(i == 0 ? "drills" : "", drill_in_words(plan.drills[i], plan.voice));
    text += line("how often", fmt::format("{} a day, {} at most, for {} {}", plan.practices_a_day,
                                          plan.most_practices_a_day, plan.weeks,
                                          plan.weeks == 1 ? "week" : "weeks"));
    text += line("goal", goal_in_words(plan.goal));
    text += line("band", band_in_words(plan));
    text += line("cues", cues_in_words(plan));
    text += line("rest", fmt::format("{} after each whole-breath hold", short_seconds(plan.rest)));
    text += line("interruption",
                 fmt::format("a gap of up to {:g} ms without a breath does not end a hold",
                             plan.bridge.count() * 1000.0));
    text += line("kept", keeps_in_words(plan));
    text += line("taper", taper_in_words(plan));
    if (!plan.models.empty())
        text += line("models", fmt::format("{} recorded by the therapist", plan.models.size()));
    if (!plan.words_for_client.empty()) text += line("words", plan.words_for_client);
    return text;
}

}  // namespace holdwell
