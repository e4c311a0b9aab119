#include "app/pages/plan_changes.h"

#include <array>
#include <span>

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/practice/drill_words.h"

namespace holdwell {
namespace {

struct Field {
    const char* what;
    std::string (*said)(const Plan&);
};

std::string taper_steps_said(const Plan& plan)
{
    std::vector<std::string> steps;
    for (const TaperStep& step : plan.taper.steps)
        steps.push_back(fmt::format("{} ({} a week, {} days, {})", step.name, step.practices_a_week,
                                    step.days, drills_in_words(step.drills)));
    return steps.empty() ? "none" : joined(steps);
}

std::string models_said(const Plan& plan)
{
    std::vector<std::string> names;
    for (const ModelVoice& model : plan.models)
        names.push_back(drill_on_note_said(model.kind, model.note));
    return names.empty() ? "none" : joined(names);
}

constexpr std::array kFields{
    Field{"Title", [](const Plan& p) { return p.title; }},
    Field{"Words before a practice",
          [](const Plan& p) {
              return p.words_for_client.empty() ? "none" : "“" + p.words_for_client + "”";
          }},
    Field{"Warm-up note",
          [](const Plan& p) { return name_of(p.voice.warm_up, Spelling::display); }},
    Field{"Ladder", [](const Plan& p) { return ladder_said(p.voice); }},
    Field{"Drills", [](const Plan& p) { return drills_in_words(p.drills); }},
    Field{"Trials in one practice now",
          [](const Plan& p) { return std::to_string(trials_of(p).size()); }},
    Field{"Practices a day", [](const Plan& p) { return std::to_string(p.practices_a_day); }},
    Field{"Practices a week now",
          [](const Plan& p) { return std::to_string(practices_a_week_now(p)); }},
    Field{"Most practices a day",
          [](const Plan& p) { return std::to_string(p.most_practices_a_day); }},
    Field{"Weeks", [](const Plan& p) { return std::to_string(p.weeks); }},
    Field{"Goal", [](const Plan& p) { return p.goal ? short_seconds(p.goal->hold) : "none"; }},
    Field{"Near enough", [](const Plan& p) { return band_said(p.band); }},
    Field{"What counts towards the goal", [](const Plan& p) { return counts_said(p.counts); }},
    Field{"Shortest interruption",
          [](const Plan& p) { return fmt::format("{:.2f} s", p.bridge.count()); }},
    Field{"The note",
          [](const Plan& p) {
              return std::string{p.cue == NoteCue::played ? "played before each trial"
                                                          : "not played"};
          }},
    Field{"Pitch line while holding",
          [](const Plan& p) {
              return std::string{p.pitch_line == PitchLine::shown ? "shown" : "hidden"};
          }},
    Field{"Rest after a hold", [](const Plan& p) { return short_seconds(p.rest); }},
    Field{"Kept", [](const Plan& p) { return keeps_said(p); }},
    Field{"Taper", [](const Plan& p) { return taper_steps_said(p); }},
    Field{"Now at", [](const Plan& p) { return taper_said(p); }},
    Field{"Your voice as the model", [](const Plan& p) { return models_said(p); }},
};

}  // namespace

namespace {

std::vector<std::string> each_in_words(std::span<const PlannedDrill> drills)
{
    std::vector<std::string> parts;
    for (const PlannedDrill& drill : drills)
        parts.push_back(fmt::format("{} {}", uncapitalised(name_of(drill.kind)),
                                    times_said(drill.repetitions)));
    return parts;
}

}  // namespace

std::string drills_in_words(const std::vector<PlannedDrill>& drills)
{
    return drills.empty() ? "none" : joined(each_in_words(drills));
}

std::string drills_in_brief(const std::vector<PlannedDrill>& drills)
{
    constexpr std::size_t kNamed = 2;
    if (drills.size() <= kNamed) return drills_in_words(drills);
    auto parts = each_in_words(std::span{drills}.first(kNamed));
    parts.push_back(fmt::format("{} more", drills.size() - kNamed));
    return joined(parts);
}

std::string counts_said(HoldCounts counts)
{
    return counts == HoldCounts::all_phonation ? "the whole hold" : "only the time near the note";
}

std::string keeps_said(const Plan& plan)
{
    if (plan.keeps == Keeps::measures_only) return "what was measured, no audio";
    return fmt::format("audio too, for {}, if the client agrees",
                       counted(plan.keep_audio_days, "day"));
}

std::vector<PlanChange> changes_between(const Plan& before, const Plan& after)
{
    std::vector<PlanChange> changes;
    for (const Field& field : kFields) {
        std::string was = field.said(before);
        std::string is = field.said(after);
        if (was != is) changes.push_back({field.what, std::move(was), std::move(is)});
    }
    return changes;
}

std::string change_said(const PlanChange& change)
{
    return fmt::format("{}: {}, then {}.", change.what, change.before, change.after);
}

}  // namespace holdwell
