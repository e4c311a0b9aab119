#include "app/pages/progress_words.h"

#include <span>

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/practice/drill_words.h"
#include "app/practice/goals.h"

namespace holdwell {
namespace {

std::string change_kind_said(Change::Kind kind)
{
    switch (kind) {
    case Change::Kind::too_few_days:
        return "too few days to say";
    case Change::Kind::within_variation:
        return "within day-to-day variation";
    case Change::Kind::longer:
        return "longer";
    case Change::Kind::shorter:
        return "shorter";
    }
    return {};
}

std::string done_of_asked(const Adherence& adherence)
{
    const int done = adherence.done();
    // A plan asks for nothing after its weeks, and practice may go on.
    if (done > adherence.asked)
        return fmt::format("{}, {} asked for by the plan", counted(done, "practice"),
                           adherence.asked);
    return fmt::format("{} of {} practices asked for ({})", done, adherence.asked,
                       percent_said(static_cast<double>(done) / adherence.asked));
}

std::string baseline_said(const BaselineReading& reading)
{
    std::string said = day_in_words(reading.day) + ": ";
    if (reading.s)
        said += fmt::format("/s/ {} ({})", short_seconds(*reading.s),
                            counted(reading.s_trials, "trial"));
    if (reading.z)
        said += fmt::format("{}/z/ {} ({})", reading.s ? ", " : "", short_seconds(*reading.z),
                            counted(reading.z_trials, "trial"));
    if (!reading.s || !reading.z) return said;
    const auto ratio = sz_ratio(std::span{&*reading.s, 1}, std::span{&*reading.z, 1});
    if (ratio) said += fmt::format(", s/z {:.2f}", ratio->value);
    if (ratio && ratio->remark) said += fmt::format(". {}", *ratio->remark);
    return said;
}

}  // namespace

const char* const kHowChangeIsFound =
    "A change is said only between two weeks with practice on three days or more, and only when "
    "their means differ by 5 s and 20 % or more. The rule is derived from the published "
    "reliability of phonation time, not published itself. Each note is read by itself.";

const char* const kHowPointsAreMarked =
    "Filled: counted. Open: in session. Cross: entered by hand, or left out because samples were "
    "lost or it is in doubt. The line joins the medians of weeks; an upright line is a change of "
    "microphone, rate or gain. A drill's hold is soft and on a note: published phonation times do "
    "not apply to it.";

const char* const kHowHoldsAreCounted =
    "Mean: of the days' means, with practice on three days or more. Near: inside the band around "
    "the note; of a week, its share of all hold time.";

const char* const kHowGlidesAreCounted =
    "Range and the largest break in semitones; a week's range is the median of its glides.";

std::string adherence_said(const Adherence& adherence)
{
    if (adherence.asked == 0 && adherence.done() == 0 && adherence.not_today == 0)
        return "No practice was asked for in these days.";
    std::string said = done_of_asked(adherence);
    said += fmt::format(": {} complete, {} in part.", adherence.complete, adherence.partly);
    if (adherence.not_today > 0)
        said += fmt::format(" {} put off after the questions beforehand.",
                            counted(adherence.not_today, "was", "were"));
    if (adherence.stopped_for_discomfort > 0)
        said += fmt::format(" {} for discomfort.", counted(adherence.stopped_for_discomfort,
                                                           "was stopped", "were stopped"));
    if (adherence.entered_by_hand > 0)
        said += fmt::format(" {} by hand.",
                            counted(adherence.entered_by_hand, "was entered", "were entered"));
    return said;
}

std::string changes_in_words(const Progress& progress)
{
    std::string said;
    for (const TimedSeries& series : progress.timed) {
        if (series.points.empty() || is_sibilant(series.kind)) continue;
        said += fmt::format("{}{}: {}. {}", said.empty() ? "" : "\n\n",
                            drill_on_note_said(series.kind, series.note),
                            change_kind_said(series.change.kind), series.change.reason);
    }
    return said;
}

std::string baselines_said(const Progress& progress)
{
    std::string said;
    for (auto at = progress.baselines.rbegin(); at != progress.baselines.rend(); ++at)
        said += fmt::format("{}{}", said.empty() ? "" : "\n", baseline_said(*at));
    return said;
}

std::string set_ups_said(const Progress& progress)
{
    if (progress.set_ups.empty()) return {};
    std::vector<std::string> days;
    for (const SetUpChange& change : progress.set_ups) days.push_back(day_in_words(change.day));
    return fmt::format("Microphone, rate or gain changed on {}: loudness and onsets before and "
                       "after are not to be compared.",
                       joined(days));
}

}  // namespace holdwell
