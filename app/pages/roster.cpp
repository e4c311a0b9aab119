#include "app/pages/roster.h"

#include <algorithm>
#include <compare>
#include <string_view>

#include "app/pages/page_words.h"

namespace holdwell {
namespace {

// The plain letters of U+00C0 .. U+00FF, each followed by its accented forms in the order of
// Unicode; others stand for themselves.
constexpr std::string_view kPlain{"aaaaaaaceeeeiiiidnooooo*ouuuuyts"
                                  "aaaaaaaceeeeiiiidnooooo*ouuuuyty"};

// Small letters without accents, as far as ASCII and the letters of Western Europe go: so that a
// code is found and sorted where a person looks for it.
std::string folded(const std::string& text)
{
    constexpr unsigned char kLead = 0xC3;  // of U+00C0 .. U+00FF in UTF-8
    std::string plain;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto byte = static_cast<unsigned char>(text[i]);
        if (byte == kLead && i + 1 < text.size())
            plain += kPlain[static_cast<unsigned char>(text[++i]) & 0x3FU];
        else
            plain += static_cast<char>(byte >= 'A' && byte <= 'Z' ? byte + 32 : byte);
    }
    return plain;
}

bool is_shown(const RosterLine& line, RosterShow show)
{
    if (show == RosterShow::archived) return line.standing == Standing::archived;
    if (line.standing == Standing::archived) return false;
    switch (show) {
    case RosterShow::not_practised:
        return has_not_practised(line);
    case RosterShow::near_goal:
        return is_near_goal(line);
    case RosterShow::discomfort:
        return line.reported_discomfort;
    default:
        return true;
    }
}

bool comes_first(const RosterLine& a, const RosterLine& b, RosterOrder order)
{
    switch (order) {
    case RosterOrder::longest_away:
        // Who never practised has been away longest.
        if (a.last_practice != b.last_practice) return a.last_practice < b.last_practice;
        break;
    case RosterOrder::nearest_goal:
        if (a.goal_share != b.goal_share)
            return a.goal_share.value_or(0.0) > b.goal_share.value_or(0.0);
        break;
    case RosterOrder::discomfort_first:
        if (a.reported_discomfort != b.reported_discomfort) return a.reported_discomfort;
        break;
    case RosterOrder::by_code:
        break;
    }
    return folded(a.code) < folded(b.code);
}

}  // namespace

std::vector<RosterLine> roster_shown(const std::vector<RosterLine>& lines,
                                     const RosterChoice& choice)
{
    const std::string wanted = folded(choice.find);
    std::vector<RosterLine> shown;
    std::ranges::copy_if(lines, std::back_inserter(shown), [&](const RosterLine& line) {
        return is_shown(line, choice.show) && folded(line.code).find(wanted) != std::string::npos;
    });
    std::ranges::stable_sort(shown, [&](const RosterLine& a, const RosterLine& b) {
        return comes_first(a, b, choice.order);
    });
    return shown;
}

int count_of(const std::vector<RosterLine>& lines, RosterShow show)
{
    return static_cast<int>(std::ranges::count_if(
        lines, [show](const RosterLine& line) { return is_shown(line, show); }));
}

std::string show_said(RosterShow show)
{
    switch (show) {
    case RosterShow::active:
        return "all active clients";
    case RosterShow::not_practised:
        return "not practised for seven days";
    case RosterShow::near_goal:
        return "near the goal";
    case RosterShow::discomfort:
        return "reported discomfort";
    case RosterShow::archived:
        return "archived";
    }
    return {};
}

std::string order_said(RosterOrder order)
{
    switch (order) {
    case RosterOrder::by_code:
        return "by code";
    case RosterOrder::longest_away:
        return "longest away first";
    case RosterOrder::nearest_goal:
        return "nearest to the goal first";
    case RosterOrder::discomfort_first:
        return "discomfort first";
    }
    return {};
}

std::string marks_said(const RosterLine& line)
{
    std::vector<std::string> marks;
    if (line.reported_discomfort) marks.emplace_back("discomfort");
    if (has_not_practised(line)) marks.emplace_back("not practised");
    if (has_reached_goal(line))
        marks.emplace_back("goal reached");
    else if (is_near_goal(line))
        marks.emplace_back("near goal");
    std::string said;
    for (const std::string& mark : marks) {
        if (!said.empty()) said += ", ";
        said += mark;
    }
    return said;
}

std::string roster_summary(const std::vector<RosterLine>& lines)
{
    std::string said = counted(count_of(lines, RosterShow::active), "active client") + ".";
    std::vector<std::string> parts;
    const int away = count_of(lines, RosterShow::not_practised);
    const int near = count_of(lines, RosterShow::near_goal);
    const int discomfort = count_of(lines, RosterShow::discomfort);
    if (away > 0) parts.push_back(counted(away, "has", "have") + " not practised for seven days");
    if (near > 0) parts.push_back(counted(near, "is", "are") + " near the goal or at it");
    if (discomfort > 0) parts.push_back(std::to_string(discomfort) + " reported discomfort");
    return parts.empty() ? said : said + " " + joined(parts) + ".";
}

}  // namespace holdwell
