#include "app/cli/coach_options.h"

#include <fmt/format.h>

#include "app/cli/values.h"

namespace holdwell {

namespace {

constexpr NumberRange kBand{"--band", 10.0, 300.0, "cents", "100"};
constexpr NumberRange kGoal{"--goal", 1.0, 120.0, "seconds", "18"};
constexpr NumberRange kTrials{"--trials", 1.0, 100.0, "", "2"};

// The drill asks for a note, not for any frequency: the client hears it played.
Result<Note> parse_target_note(const std::string& text)
{
    const auto pitch = parse_pitch(text, "--note");
    if (!pitch) return pitch.error();
    if (const auto note = parse_note(text)) return *note;
    return Error{
        fmt::format("{}: write the name of a note, such as F4 or Bb3", as_typed("--note", text))};
}

// Absent when none was named.
Result<std::optional<std::string>> recording_of(const CoachArguments& arguments)
{
    if (arguments.file == "") return Error{"--file \"\": name a recording after it"};
    if (arguments.fast && !arguments.file)
        return Error{"--fast: only a recording can be heard faster than it sounds; name one with "
                     "--file"};
    return arguments.file;
}

}  // namespace

Result<CoachOptions> checked(const CoachArguments& arguments)
{
    CoachOptions options;
    const auto note = parse_target_note(arguments.note);
    if (!note) return note.error();
    options.drill.target = note.value();
    const auto band = parse_number(arguments.band, kBand);
    if (!band) return band.error();
    options.drill.band = {band.value()};
    if (arguments.goal) {
        const auto goal = parse_number(*arguments.goal, kGoal);
        if (!goal) return goal.error();
        options.drill.goal = Seconds{goal.value()};
    }
    if (arguments.trials) {
        const auto trials = parse_whole_number(*arguments.trials, kTrials);
        if (!trials) return trials.error();
        options.trials = trials.value();
    }
    const auto recording = recording_of(arguments);
    if (!recording) return recording.error();
    options.recording = recording.value();
    options.pace = arguments.fast ? Pace::fast : Pace::real_time;
    options.cue = arguments.silent ? Cue::silent : Cue::play_note;
    return options;
}

Result<PlanOptions> checked_for_plan(const CoachArguments& arguments)
{
    if (arguments.goal || arguments.trials)
        return Error{
            "--plan: the plan says the goals and how often; leave out --goal and --trials"};
    if (arguments.plan == "") return Error{"--plan \"\": name a plan's file, or home"};
    const auto recording = recording_of(arguments);
    if (!recording) return recording.error();
    PlanOptions options{.plan = arguments.plan.value_or(kHomePlan)};
    if (arguments.data) options.data = *arguments.data;
    if (arguments.fit) options.fitness = Fitness::nothing_against;
    options.recording = recording.value();
    options.pace = arguments.fast ? Pace::fast : Pace::real_time;
    options.cue = arguments.silent ? Cue::silent : Cue::play_note;
    return options;
}

}  // namespace holdwell
