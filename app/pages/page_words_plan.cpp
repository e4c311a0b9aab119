// Plans in words.

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/pages/plan_changes.h"
#include "app/practice/drill_words.h"

namespace holdwell {

std::string voice_said(VoiceSet set)
{
    switch (set) {
    case VoiceSet::higher:
        return "higher voice";
    case VoiceSet::lower:
        return "lower voice";
    case VoiceSet::own:
        return "own notes";
    }
    return {};
}

std::string ladder_said(const VoiceNotes& voice)
{
    std::string names;
    for (const Note note : voice.ladder) {
        if (!names.empty()) names += ' ';
        names += name_of(note, Spelling::display);
    }
    return names;
}

std::string origin_said(GoalOrigin origin)
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

std::string goal_said(const std::optional<Goal>& goal)
{
    if (!goal) return "none: as long as the breath is easy";
    return fmt::format("{}, {}, set on {}", short_seconds(goal->hold), origin_said(goal->origin),
                       day_in_words(goal->set_on));
}

std::string taper_said(const Plan& plan)
{
    const std::size_t steps = plan.taper.steps.size();
    if (plan.taper_step < 1 || static_cast<std::size_t>(plan.taper_step) > steps)
        return "the full plan";
    return fmt::format("step {} of {}: {}", plan.taper_step, steps,
                       plan.taper.steps[static_cast<std::size_t>(plan.taper_step) - 1].name);
}

std::vector<std::string> plan_in_two_lines(const Plan& plan)
{
    return {fmt::format("{}: warm-up on {}, ladder {}, {}. Goal {}.",
                        capitalised(voice_said(plan.voice.set)),
                        name_of(plan.voice.warm_up, Spelling::display), ladder_said(plan.voice),
                        band_said(plan.band), goal_said(plan.goal)),
            fmt::format("{}; {} a week for {}, now at {}.",
                        capitalised(drills_in_words(drills_now(plan))),
                        counted(practices_a_week_now(plan), "practice"),
                        counted(plan.weeks, "week"), taper_said(plan))};
}

}  // namespace holdwell
