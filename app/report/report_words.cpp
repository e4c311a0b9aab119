#include <fmt/format.h>

#include "app/practice/cautions.h"
#include "app/practice/drill_words.h"
#include "app/practice/taper.h"
#include "app/report/report_parts.h"

namespace holdwell {

namespace {

constexpr const char* kOfWeeks =
    "Weeks are seven days, counted from the first practice at home. A weekly mean is the mean "
    "of its days' means, given for three days or more. A change is said only where two such "
    "means differ by at least 5 s and at least 20 %: derived from published reliability of "
    "phonation time (J. Voice 24, 281–284, 2010), not itself published.";
constexpr const char* kOfNotes =
    "Each note is read by itself. These holds are soft and half closed at the lips: norms of "
    "maximum phonation time do not apply to them. A glide's range is its own span, without "
    "fry, not a vocal range. Onsets are named by a rule from rise time and air before the "
    "voice; each is a hint. Ratings are the client's own, 0 (none) to 10 (most).";

std::string drills_text(const Plan& plan)
{
    std::string text;
    for (const PlannedDrill& drill : drills_now(plan)) {
        text += text.empty() ? "" : ", ";
        text += fmt::format("{} × {}", name_of(drill.kind), drill.repetitions);
    }
    return text;
}

std::string ladder_text(const VoiceNotes& voice)
{
    std::string text = fmt::format("warm-up {}, ladder", name_of(voice.warm_up, Spelling::display));
    for (const Note note : voice.ladder) text.append(" ").append(name_of(note, Spelling::display));
    return text;
}

std::string origin_text(GoalOrigin origin)
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

std::string goal_text(const Plan& plan, const DayForm& days)
{
    if (!plan.goal) return "Goal: none; as long as the breath is easy";
    std::string text =
        fmt::format("Goal: {} on each note, {}, set {}", short_seconds(plan.goal->hold),
                    origin_text(plan.goal->origin), day_text(plan.goal->set_on, days));
    if (!plan.goal->reasoning.empty()) text += fmt::format(" ({})", plan.goal->reasoning);
    return text;
}

std::string counted_text(const Plan& plan)
{
    return plan.counts == HoldCounts::all_phonation
               ? std::string{"all phonation counts"}
               : fmt::format("only time within ± {:.0f} cents counts", plan.band.value);
}

std::string dose_text(const Plan& plan)
{
    const std::size_t step = static_cast<std::size_t>(plan.taper_step);
    if (step >= 1 && step <= plan.taper.steps.size()) {
        return fmt::format("taper step {} of {}, {}: {} practices a week", step,
                           plan.taper.steps.size(), plan.taper.steps[step - 1].name,
                           plan.taper.steps[step - 1].practices_a_week);
    }
    return fmt::format("{} a day for {} weeks", plan.practices_a_day, plan.weeks);
}

std::string points_sentence(const ReportSource& source)
{
    const std::string lines =
        " Joined line: weekly median. Broken line: goal. Dotted line: the microphone, its rate or "
        "its gain changed.";
    if (is_long(axis_of(source))) {
        return "Grey: from the lowest to the highest trial of a week, of those measured at home "
               "without loss of samples and without doubt; all figures are of these." +
               lines;
    }
    return "Points: one trial each. Filled: measured at home; open: in session, or entered by "
           "hand; cross: samples lost or measurement in doubt. Only filled points are in means, "
           "medians and longest." +
           lines;
}

std::string days_sentence(const DayForm& days)
{
    return days.day_one ? "Days are counted from the first practice in the record (day 1); no "
                          "dates, sound or device numbers are in this file."
                        : "Dates of practice can identify a person: keep this file as a health "
                          "record. No sound or device numbers are in it.";
}

}  // namespace

std::vector<std::string> plan_lines(const ReportSource& source)
{
    if (!source.plan) return {"No plan."};
    const Plan& plan = *source.plan;
    const DayForm& days = source.options->days;
    std::vector<std::string> lines{
        fmt::format("{} (revision {}, {}): {}", plan.title, plan.revision,
                    day_text(plan.written, days), dose_text(plan)),
        fmt::format("{}; {}; {}", drills_text(plan), ladder_text(plan.voice), counted_text(plan)),
        goal_text(plan, days)};
    const std::string taper =
        taper_advice(plan, source.file->practices, source.progress->period.to).reasoning;
    // Steps are offered by what the goal was met on: without one there is nothing to say.
    if (plan.goal && !taper.empty()) lines.push_back(fmt::format("Taper: {}", taper));
    return lines;
}

std::vector<std::string> small_print(const ReportSource& source)
{
    const double bridge = source.plan ? source.plan->bridge.count() : Plan{}.bridge.count();
    return {fmt::format(
                "Hold: the longest phonation of a trial, from onset to offset, gaps under "
                "{:.0f} ms bridged; it ends when the voice stops, a breath is taken, or it falls "
                "by 15 dB or turns to fry. Timed from the microphone, never by hand.",
                1000.0 * bridge),
            points_sentence(source),
            kOfWeeks,
            kOfNotes,
            days_sentence(source.options->days),
            kPracticeAid};
}

}  // namespace holdwell
