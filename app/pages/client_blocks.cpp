#include "app/pages/client_blocks.h"

#include <fmt/format.h>

#include "app/pages/page_words.h"

namespace holdwell {

DaysBlock week_block(const ClientReading& reading, Date today)
{
    DaysBlock block;
    for (const AdherenceDay& day : reading.days) {
        block.days.push_back({.name = weekday_said(day.day),
                              .done = day.of.done(),
                              .asked = day.of.asked,
                              .partly = day.of.partly,
                              .is_today = day.day == today,
                              .is_ahead = day.day > today});
    }
    block.summary = fmt::format("Week {}", reading.week);
    if (reading.done > 0)
        block.summary += fmt::format(": {} so far", counted(reading.done, "practice"));
    block.summary += partly_said(block, reading.done);
    return block;
}

std::string partly_said(const DaysBlock& days, int done)
{
    int partly = 0;
    for (const DaysBlock::Day& day : days.days) partly += day.partly;
    if (partly == 0) return {};
    if (done == 1) return ", part of the way";
    return fmt::format(", {} of them part of the way", partly);
}

std::string paragraph_of(const Advice& advice)
{
    std::string text;
    for (const std::string& sentence : advice.sentences) {
        if (!text.empty()) text += ' ';
        text += sentence;
    }
    return text;
}

}  // namespace holdwell
