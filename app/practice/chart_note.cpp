#include "app/practice/chart_note.h"

#include <algorithm>
#include <map>
#include <vector>

#include <fmt/format.h>

#include "app/practice/drill_words.h"
#include "app/practice/progress_parts.h"

namespace holdwell {

namespace {

std::string times(int n, const char* what)
{
    return fmt::format("{} {}{}", n, what, n == 1 ? "" : "s");
}

std::string joined(const std::vector<std::string>& parts)
{
    std::string text;
    for (const std::string& part : parts) text += (text.empty() ? "" : "; ") + part;
    return text;
}

std::string adherence_sentence(const Progress& progress, const DayForm& days)
{
    // A session may stand before the first practice at home.
    const Date from = std::max(progress.period.from, progress.day_one.value_or(Date{}));
    return fmt::format("Home practice {} to {}: {}.",
                       day_text(std::min(from, progress.period.to), days),
                       day_text(progress.period.to, days), adherence_in_words(progress.adherence));
}

std::string hold_part(const TimedSeries& series)
{
    const std::string name =
        series.note ? fmt::format("{}{}", name_of(*series.note, Spelling::display),
                                  series.kind == DrillKind::warm_up_hold ? " (warm-up)" : "")
                    : name_of(series.kind);
    const Change& change = series.change;
    if (change.first && change.last) {
        return fmt::format("{} {:.1f} s in week {}, {:.1f} s in week {}", name,
                           change.first->mean->count(), change.first->week,
                           change.last->mean->count(), change.last->week);
    }
    if (series.weeks.empty()) return {};
    return fmt::format("{} median {:.1f} s of {}", name, series.weeks.back().median.count(),
                       times(series.weeks.back().trials, "trial"));
}

std::string holds_sentence(const Progress& progress)
{
    std::vector<std::string> parts;
    std::optional<Seconds> goal;
    for (const TimedSeries& series : progress.timed) {
        if (const std::string part = hold_part(series); !part.empty()) parts.push_back(part);
        if (series.goal) goal = series.goal;
    }
    if (parts.empty()) return {};
    std::string text =
        "Mean hold per note, first and last week with three practised days or more: " +
        joined(parts);
    if (goal) text += fmt::format("; goal {}", short_seconds(*goal));
    return text + ".";
}

std::string range_text(const GlideWeek& week)
{
    return week.range ? fmt::format("range {:.1f} semitones", week.range->value) : "range unknown";
}

std::string glide_part(const GlideSeries& series)
{
    if (series.weeks.empty()) return {};
    const auto text = [](const GlideWeek& week) {
        return fmt::format("{} and {:.1f} breaks per glide in week {}", range_text(week),
                           week.breaks_per_glide, week.week);
    };
    const char* name = series.direction == GlideDirection::up ? "rising" : "falling";
    if (series.weeks.size() == 1) return fmt::format("{}, {}", name, text(series.weeks.front()));
    return fmt::format("{}, {}, {}", name, text(series.weeks.front()), text(series.weeks.back()));
}

std::string glides_sentence(const Progress& progress)
{
    std::vector<std::string> parts;
    for (const GlideSeries& series : progress.glides) {
        if (const std::string part = glide_part(series); !part.empty()) parts.push_back(part);
    }
    return parts.empty() ? std::string{} : "Glides (median range): " + joined(parts) + ".";
}

std::string onset_text(const OnsetWeek& week)
{
    return fmt::format("week {}: {} easy, {} hard, {} breathy, {} unsure", week.week, week.easy,
                       week.hard, week.breathy, week.unsure);
}

std::string onsets_sentence(const Progress& progress)
{
    if (progress.onsets.empty()) return {};
    std::string text =
        "Onsets of holds as the program names them, " + onset_text(progress.onsets.front());
    if (progress.onsets.size() > 1) text += "; " + onset_text(progress.onsets.back());
    return text + ".";
}

std::string fry_sentence(const Progress& progress)
{
    int trials = 0;
    int with_fry = 0;
    for (const FryWeek& week : progress.fry) {
        trials += week.trials;
        with_fry += week.with_fry;
    }
    if (trials == 0) return {};
    return fmt::format("Fry in {} of {}.", with_fry, times(trials, "hold or glide trial"));
}

std::string baseline_sentence(const Progress& progress, const DayForm& days)
{
    std::vector<std::string> parts;
    for (const BaselineReading& baseline : progress.baselines) {
        std::string part = day_text(baseline.day, days);
        if (baseline.s)
            part += fmt::format(", /s/ {:.1f} s (longest of {})", baseline.s->count(),
                                baseline.s_trials);
        if (baseline.z)
            part += fmt::format(", /z/ {:.1f} s (longest of {})", baseline.z->count(),
                                baseline.z_trials);
        if (const auto ratio = baseline.ratio()) part += fmt::format(", s/z {:.2f}", *ratio);
        parts.push_back(part);
    }
    if (parts.empty()) return {};
    // A long record: the first and the last tell it.
    if (parts.size() > 2) parts = {parts.front(), parts.back()};
    return "In session: " + joined(parts) + ".";
}

struct Ratings {
    std::vector<double> effort;
    std::vector<double> discomfort;
};

std::string rating_text(int week, const Ratings& of)
{
    return fmt::format("week {} effort {:.1f}, discomfort {:.1f} (highest {:.0f})", week,
                       median_value(of.effort), median_value(of.discomfort),
                       *std::ranges::max_element(of.discomfort));
}

std::string ratings_sentence(const Progress& progress)
{
    std::map<int, Ratings> by_week;
    for (const RatingPoint& point : progress.ratings) {
        Ratings& week = by_week[week_of(point.day, progress.day_one.value_or(point.day))];
        week.effort.push_back(point.rating.effort);
        week.discomfort.push_back(point.rating.discomfort);
    }
    if (by_week.empty()) return {};
    std::string text = "Self-ratings, 0 to 10, medians: " +
                       rating_text(by_week.begin()->first, by_week.begin()->second);
    if (by_week.size() > 1)
        text += "; " + rating_text(by_week.rbegin()->first, by_week.rbegin()->second);
    return text + ".";
}

std::string trust_sentence(const Progress& progress, const DayForm& days)
{
    std::string text = fmt::format("{} of {} not counted (samples lost or measurement in doubt).",
                                   progress.trials_not_counted, times(progress.trials, "trial"));
    std::vector<std::string> changed;
    for (const SetUpChange& change : progress.set_ups)
        changed.push_back(day_text(change.day, days));
    if (changed.empty()) return text;
    if (changed.size() > 3) return text + fmt::format(" Set-up changed {} times.", changed.size());
    return text + " Set-up changed: " + joined(changed) + ".";
}

}  // namespace

std::string adherence_in_words(const Adherence& all)
{
    std::string text = times(all.done(), "practice") + " done";
    // More than was asked, or done after the plan's last week: a share would say nothing.
    if (all.asked > 0 && all.done() > all.asked) text += fmt::format(" ({} asked)", all.asked);
    if (all.asked > 0 && all.done() <= all.asked)
        text += fmt::format(" of {} asked ({:.0f} %)", all.asked, 100.0 * all.done() / all.asked);
    if (all.done() > 0) text += fmt::format(": {} complete, {} in part", all.complete, all.partly);
    if (all.entered_by_hand > 0) text += fmt::format("; {} entered by hand", all.entered_by_hand);
    if (all.not_today > 0)
        text += fmt::format("; {} put off after the questions beforehand", all.not_today);
    if (all.stopped_for_discomfort > 0)
        text += fmt::format("; {} stopped for discomfort", all.stopped_for_discomfort);
    return text;
}

std::string chart_note(const Progress& progress, const std::string& who, const DayForm& days)
{
    std::string text = "O: " + who + ". " + adherence_sentence(progress, days);
    if (progress.practices == 0) return text;
    for (const std::string& sentence :
         {holds_sentence(progress), glides_sentence(progress), onsets_sentence(progress),
          fry_sentence(progress), baseline_sentence(progress, days), ratings_sentence(progress),
          trust_sentence(progress, days)}) {
        if (!sentence.empty()) text += " " + sentence;
    }
    return text;
}

}  // namespace holdwell
