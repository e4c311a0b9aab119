#include "tests/bench/estimator_tables.h"

#include <algorithm>
#include <cstdio>
#include <functional>
#include <optional>

namespace holdwell::bench {

namespace {

using test::PitchGoal;
using test::PitchScore;

bool at_most(double value, const std::optional<double>& goal) { return !goal || value <= *goal; }

bool is_met(const PitchScore& s, const PitchGoal& g)
{
    const bool usable = !g.usable_percent || s.usable_percent >= *g.usable_percent;
    return s.frames > 0 && usable && at_most(s.median_cents, g.median_cents) &&
           at_most(s.p95_cents, g.p95_cents) && at_most(s.gross_percent, g.gross_percent);
}

std::string text_of(const std::optional<double>& goal)
{
    if (!goal) return "-";
    char text[32];
    std::snprintf(text, sizeof text, "%g", *goal);
    return text;
}

// Absent where too few frames remain for the figure to mean anything: a method that is silent or
// wrong nearly everywhere is not the most exact.
using Figure = std::function<std::optional<double>(const PitchScore&)>;

std::optional<double> if_enough(double value, int frames, const PitchScore& s)
{
    constexpr double kLeastShare = 0.5;
    if (frames < kLeastShare * s.frames) return std::nullopt;
    return value;
}

enum class Best { least, most };

std::string winners(const CategoryResult& r, const std::vector<std::string>& names,
                    const Figure& figure, Best best)
{
    std::optional<double> top;
    for (const PitchScore& s : r.scores) {
        const auto value = figure(s);
        if (value && (!top || (best == Best::least ? *value < *top : *value > *top))) top = value;
    }
    std::string text;
    for (std::size_t k = 0; k < r.scores.size(); ++k)
        if (top && figure(r.scores[k]) == top) text += (text.empty() ? "" : ", ") + names[k];
    return text;
}

void print_rows(const std::vector<CategoryResult>& results, const std::vector<std::string>& names,
                const Figure& figure, Best best)
{
    std::printf("%-16s", "");
    for (const std::string& n : names) std::printf("%10s", n.c_str());
    std::printf("  first\n");
    for (const CategoryResult& r : results) {
        std::printf("%-16s", r.category->name.c_str());
        for (const PitchScore& s : r.scores) {
            if (const auto value = figure(s))
                std::printf("%10.3f", *value);
            else
                std::printf("%10s", "-");
        }
        std::printf("  %s\n", winners(r, names, figure, best).c_str());
    }
}

}  // namespace

void print_goals(const std::vector<CategoryResult>& results)
{
    std::printf("%-16s %7s | %9s %6s | %9s %6s | %8s %6s | %8s %6s | %7s\n", "category", "frames",
                "median c", "goal", "p95 c", "goal", "gross %", "goal", "usable %", "goal",
                "silent");
    for (const CategoryResult& r : results) {
        const PitchScore& s = r.scores.front();
        const PitchGoal& g = r.category->goal;
        std::printf("%-16s %7d | %9.4f %6s | %9.4f %6s | %8.3f %6s | %8.3f %6s | %7.3f %s\n",
                    r.category->name.c_str(), s.frames, s.median_cents,
                    text_of(g.median_cents).c_str(), s.p95_cents, text_of(g.p95_cents).c_str(),
                    s.gross_percent, text_of(g.gross_percent).c_str(), s.usable_percent,
                    text_of(g.usable_percent).c_str(), s.silent_percent,
                    is_met(s, g) ? "met" : "MISSED");
    }
}

void print_comparison(const std::vector<CategoryResult>& results,
                      const std::vector<std::string>& names)
{
    std::printf("\nFine error, median cents (of frames off by less than 100; - where those are "
                "under half)\n");
    print_rows(
        results, names,
        [](const PitchScore& s) { return if_enough(s.median_cents, s.fine_frames, s); },
        Best::least);
    std::printf("\nFine error, 95th percentile, cents\n");
    print_rows(
        results, names,
        [](const PitchScore& s) { return if_enough(s.p95_cents, s.fine_frames, s); }, Best::least);
    std::printf("\nGross errors, %% of frames with an estimate off by more than 50 cents\n");
    print_rows(
        results, names,
        [](const PitchScore& s) { return if_enough(s.gross_percent, s.estimated_frames, s); },
        Best::least);
    std::printf("\nUsable, %% of all voiced frames within 50 cents\n");
    print_rows(
        results, names, [](const PitchScore& s) { return s.usable_percent; }, Best::most);
}

}  // namespace holdwell::bench
