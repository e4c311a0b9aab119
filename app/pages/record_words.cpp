#include "app/pages/record_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/pages/page_words.h"
#include "app/practice/day_text.h"
#include "app/practice/goal_builder.h"

namespace holdwell {
namespace {

constexpr std::size_t kFilesSaid = 3;

std::string kind_said(HandedOut::What what)
{
    switch (what) {
    case HandedOut::What::plan:
        return "a plan";
    case HandedOut::What::practices:
        return "practices";
    case HandedOut::What::report:
        return "a report";
    case HandedOut::What::table:
        return "a table of trials";
    }
    return {};
}

// "3 March 2026: practices, with day numbers, with audio, sealed"
std::string file_said(const HandedOut& file)
{
    std::string said = fmt::format(
        "{}: {}, {}", day_text(file.day, {}), kind_said(file.what),
        file.days == HandedOut::Days::dates ? "with dates" : "with day numbers instead of dates");
    if (file.name) said += ", with a name";
    if (file.audio) said += ", with audio";
    return said + (file.sealed ? ", sealed." : ", not sealed.");
}

}  // namespace

std::string set_goal_said(const ClientGoal& goal, const ClientFile& file, Date today)
{
    const GoalRecord record = record_of(goal, file, today);
    return fmt::format("{}\n{} {}", sentence_of(goal.goal, shortened(file.client.code, 40)),
                       history_of(goal, record, today), record.sentence);
}

std::string handed_out_said(const std::vector<HandedOut>& files)
{
    std::string said;
    const std::size_t shown = std::min(files.size(), kFilesSaid);
    for (std::size_t i = 0; i < shown; ++i) {
        if (i > 0) said += "\n";
        said += file_said(files[files.size() - 1 - i]);
    }
    const std::size_t before = files.size() - shown;
    if (before > 0) said += fmt::format("\nBefore: {}.", counted(static_cast<int>(before), "file"));
    return said;
}

}  // namespace holdwell
