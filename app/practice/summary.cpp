#include "app/practice/summary.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "app/practice/drill_words.h"
#include "app/practice/progress.h"
#include "app/practice/progress_parts.h"

namespace holdwell {

namespace {

// The record up to and with this practice, and how it reads.
struct Reading {
    const Practice* practice{nullptr};
    Progress progress;
};

Reading read(const ClientFile& file, const Practice& practice)
{
    ClientFile up_to_now{file.client, file.plans, {}};
    for (const Practice& other : file.practices) {
        if (other.id != practice.id && other.begun <= practice.begun)
            up_to_now.practices.push_back(other);
    }
    up_to_now.practices.push_back(practice);
    const Date today = practice.begun.date;
    return {&practice, progress_of(up_to_now, whole_record(up_to_now, today))};
}

// Measured well, wherever: the client is not told of a longest that a session has seen longer.
bool is_sound(const TimedPoint& point)
{
    return point.mark == TrialMark::none && point.source != TrialSource::by_hand;
}

std::optional<TimedPoint> longest_in(const TimedSeries& series, const Id& practice)
{
    std::optional<TimedPoint> longest;
    for (const TimedPoint& point : series.points) {
        if (!is_sound(point) || point.practice != practice) continue;
        if (!longest || point.counted > longest->counted) longest = point;
    }
    return longest;
}

std::optional<Seconds> longest_before(const TimedSeries& series, const Id& practice)
{
    std::optional<Seconds> longest;
    for (const TimedPoint& point : series.points) {
        if (is_sound(point) && point.practice != practice)
            longest = std::max(longest, {point.counted});
    }
    return longest;
}

std::string place_name(const TimedSeries& series)
{
    return series.note ? name_of(*series.note, Spelling::display) : name_of(series.kind);
}

// "C4", "C4 and D4", "C4, D4 and E4"
std::string listed(const std::vector<std::string>& names)
{
    std::string text;
    for (std::size_t i = 0; i < names.size(); ++i) {
        if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
        text += names[i];
    }
    return text;
}

std::string trials_line(const Practice& practice)
{
    const auto done = static_cast<int>(practice.trials.size());
    if (practice.completion == Completion::stopped_for_discomfort)
        return "You stopped when it was uncomfortable. That was right.";
    if (practice.completion == Completion::complete || done >= practice.trials_asked)
        return "That was the whole practice. Well done.";
    if (done == 0) return "Nothing was sung this time. That is all right.";
    return fmt::format("You sang {} of {}. Every one of them counts.", count_in_words(done),
                       count_in_words(practice.trials_asked));
}

std::string goals_line(const Reading& reading)
{
    std::vector<std::string> met;
    std::optional<Seconds> goal;
    std::size_t with_goal = 0;
    for (const TimedSeries& series : reading.progress.timed) {
        const auto longest = longest_in(series, reading.practice->id);
        if (!longest || !longest->goal) continue;
        ++with_goal;
        goal = longest->goal;
        if (rounded_to_tenth(longest->counted) >= *longest->goal) met.push_back(place_name(series));
    }
    if (met.empty()) return {};
    if (met.size() == with_goal && with_goal > 1)
        return fmt::format("You reached your goal of {} on every note.", seconds_in_words(*goal));
    return fmt::format("You reached your goal of {} on {}.", seconds_in_words(*goal), listed(met));
}

std::string longest_line(const Reading& reading)
{
    std::vector<std::string> longest_yet;
    for (const TimedSeries& series : reading.progress.timed) {
        const auto longest = longest_in(series, reading.practice->id);
        const auto before = longest_before(series, reading.practice->id);
        if (!longest || !before) continue;
        // Longer by what the digits can show.
        if (rounded_to_tenth(longest->counted) > rounded_to_tenth(*before))
            longest_yet.push_back(
                fmt::format("{} ({})", place_name(series), seconds_in_words(longest->counted)));
    }
    if (longest_yet.empty()) return {};
    if (longest_yet.size() > 3)
        return fmt::format("Your longest yet on {} notes.",
                           count_in_words(static_cast<int>(longest_yet.size())));
    return fmt::format("Your longest yet on {}.", listed(longest_yet));
}

std::string in_band_line(const Reading& reading)
{
    Seconds in_band{};
    Seconds all{};
    for (const TimedSeries& series : reading.progress.timed) {
        for (const TimedPoint& point : series.points) {
            if (!is_sound(point) || point.practice != reading.practice->id || !point.in_band)
                continue;
            in_band += *point.in_band;
            all += point.hold_time;
        }
    }
    if (all <= Seconds{}) return {};
    if (std::round(in_band.count()) == std::round(all.count()))
        return "You were near the note the whole time.";
    return fmt::format("You were near the note for {:.0f} of {:.0f} seconds.", in_band.count(),
                       all.count());
}

std::string onset_line(const Practice& practice)
{
    int easy = 0;
    int holds = 0;
    for (const Trial& trial : practice.trials) {
        const auto* hold = std::get_if<HoldMeasures>(&trial.measures);
        if (!hold || mark_of(trial) != TrialMark::none) continue;
        ++holds;
        easy += hold->onset == OnsetClass::easy ? 1 : 0;
    }
    if (easy == 0) return {};
    if (easy == holds) return holds == 1 ? "The hold began easily." : "Every hold began easily.";
    return fmt::format("{} of {} holds began easily.", easy, holds);
}

struct Breaks {
    int glides{0};
    int breaks{0};
    double per_glide() const { return static_cast<double>(breaks) / glides; }
};

Breaks breaks_where(const Progress& progress, auto belongs)
{
    Breaks found;
    for (const GlideSeries& series : progress.glides) {
        for (const GlidePoint& point : series.points) {
            if (point.mark != TrialMark::none || !belongs(point)) continue;
            ++found.glides;
            found.breaks += point.breaks;
        }
    }
    return found;
}

std::string breaks_line(const Reading& reading)
{
    const Date today = reading.practice->begun.date;
    const Date day_one = reading.progress.day_one.value_or(today);
    const int last_week = week_of(today, day_one) - 1;
    const Breaks now = breaks_where(reading.progress, [&](const GlidePoint& point) {
        return point.practice == reading.practice->id;
    });
    const Breaks before = breaks_where(reading.progress, [&](const GlidePoint& point) {
        return point.counts() && week_of(point.day, day_one) == last_week;
    });
    if (now.glides == 0) return {};
    if (now.breaks == 0)
        return now.glides == 1 ? "No break in your glide." : "No breaks in your glides.";
    if (before.glides == 0 || now.per_glide() >= before.per_glide()) return {};
    return fmt::format("Fewer breaks in your glides than last week: {} in {}, after {} in {}.",
                       now.breaks, now.glides, before.breaks, before.glides);
}

}  // namespace

std::vector<std::string> words_after(const ClientFile& file, const Practice& practice)
{
    if (practice.completion == Completion::not_today)
        return {"Resting was the right choice today."};
    std::vector<std::string> lines{trials_line(practice)};
    // Nothing to cheer about on a day that hurt.
    if (practice.completion == Completion::stopped_for_discomfort) return lines;
    const Reading reading = read(file, practice);
    for (std::string line : {goals_line(reading), longest_line(reading), in_band_line(reading),
                             breaks_line(reading), onset_line(practice)}) {
        if (!line.empty()) lines.push_back(std::move(line));
    }
    return lines;
}

}  // namespace holdwell
