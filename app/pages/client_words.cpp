#include "app/pages/client_words.h"

#include <fmt/format.h>

#include "app/pages/client_blocks.h"
#include "app/pages/page_words.h"
#include "app/practice/progress.h"
#include "dsp/onset_baseline.h"

namespace holdwell {
namespace {

constexpr std::chrono::days kTwoWeeks{14};

std::string rating_said(const std::optional<SelfRating>& rating)
{
    if (!rating) return " Not rated.";
    return fmt::format(" Effort {}, discomfort {} of 10.", rating->effort, rating->discomfort);
}

std::string before_said(const BeforePractice& before)
{
    std::vector<std::string> said;
    if (before.pain) said.emplace_back("pain");
    if (before.hoarser) said.emplace_back("hoarser than usual");
    if (before.unwell) said.emplace_back("unwell");
    if (before.on_voice_rest) said.emplace_back("on voice rest");
    return said.empty() ? "" : " Said before it: " + joined(said) + ".";
}

}  // namespace

std::string standing_said(const Client& client)
{
    return fmt::format("{}, in the records since {}.",
                       client.standing == Standing::active ? "Active" : "Archived",
                       day_in_words(client.since));
}

DaysBlock last_two_weeks(const ClientFile& file, Date today)
{
    const Date from = day_after(today, -(kTwoWeeks - std::chrono::days{1}));
    const Progress progress = progress_of(file, {.from = from, .to = today, .today = today});
    DaysBlock block;
    for (const AdherenceDay& day : progress.days)
        block.days.push_back({.name = weekday_said(day.day),
                              .done = day.of.done(),
                              .asked = day.of.asked,
                              .partly = day.of.partly,
                              .is_today = day.day == today});
    block.summary = fmt::format(
        "{} of {} practices asked for in the last 14 days{}{}.", progress.adherence.done(),
        progress.adherence.asked, partly_said(block, progress.adherence.done()),
        progress.adherence.entered_by_hand > 0
            ? fmt::format(", {} of them entered by hand", progress.adherence.entered_by_hand)
            : "");
    return block;
}

std::string last_practice_said(const Practice& practice, Date today)
{
    std::string said =
        fmt::format("{} at {}, {}: {}", capitalised(days_ago_in_words(practice.begun.date, today)),
                    time_in_words(practice.begun.time), kind_said(practice.kind),
                    completion_said(practice.completion));
    said += practice.trials.empty()
                ? std::string{", without a trial."}
                : fmt::format(", {} of {} trials.", practice.trials.size(), practice.trials_asked);
    said += rating_said(practice.rating) + before_said(practice.before);
    if (!practice.remark.empty()) said += "\n“" + practice.remark + "”";
    return said;
}

std::string onset_labels_said(const Client& client)
{
    if (!client.onset_baseline || client.onset_baseline->onsets.empty())
        return "Onsets are named by the usual limits: none was named by you in session yet.";
    const auto count = static_cast<int>(client.onset_baseline->onsets.size());
    const std::string named = fmt::format("{} named by you on {}", counted(count, "onset"),
                                          day_in_words(client.onset_baseline->labelled));
    if (client.onset_baseline->onsets.size() < kFewestLabels)
        return fmt::format("{}; from {} on, hints follow your ear.", named, kFewestLabels);
    return named + ": hints follow your ear.";
}

std::string taper_offer_said(TaperMove move)
{
    switch (move) {
    case TaperMove::next_step:
        return "the next step can be offered";
    case TaperMove::step_back:
        return "one step back is suggested";
    case TaperMove::stay:
        return "";
    }
    return {};
}

}  // namespace holdwell
