// Judges the hold timer on sustained notes of every kind, and on sounds that are none.
//
//   holds                     50 files a category
//   holds --files 12          so many
//   holds --only breathy      one category (its beginning is enough)
//   holds --worst             names each file that is off by more than 100 ms

#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "tests/bench/hold_method.h"
#include "tests/bench/parallel.h"
#include "tests/support/pitch_score.h"

namespace holdwell::bench {

namespace {

constexpr ListeningTask kTask{.sought = Sought::hold};

struct Options {
    int files{50};
    std::string only;
    bool list_worst{false};
};

Options options_of(int argc, char** argv)
{
    Options o;
    for (int k = 1; k < argc; ++k) {
        const std::string_view word = argv[k];
        if (word == "--worst") {
            o.list_worst = true;
        } else if (word == "--files" && k + 1 < argc) {
            o.files = std::max(1, std::atoi(argv[++k]));
        } else if (word == "--only" && k + 1 < argc) {
            o.only = argv[++k];
        } else {
            std::printf("holds [--files N] [--only CATEGORY] [--worst]\n");
            std::exit(2);
        }
    }
    return o;
}

struct Spread {
    double median;
    double p95;
};

Spread spread_of(const std::vector<double>& signed_ms)
{
    std::vector<double> sizes;
    for (const double ms : signed_ms) sizes.push_back(std::abs(ms));
    return {test::quantile(sizes, 0.5), test::quantile(sizes, 0.95)};
}

void name_if_bad(const test::HoldCategory& category, std::size_t file, const test::HoldErrors& e)
{
    bool bad = e.missed > 0 || e.invented > 0 || e.gaps_missed > 0;
    for (const double ms : e.duration_ms) bad = bad || std::abs(ms) > 100.0;
    if (!bad) return;
    std::printf("  %s, file %zu: missed %d, invented %d, gaps missed %d", category.name.c_str(),
                file, e.missed, e.invented, e.gaps_missed);
    for (std::size_t k = 0; k < e.onset_ms.size(); ++k)
        std::printf("; onset %+.0f offset %+.0f", e.onset_ms[k], e.offset_ms[k]);
    std::printf("\n");
}

void judge(const test::HoldCategory& category, const Options& o)
{
    const auto files = results_of(o.files, [&](int k) {
        const test::ScriptedTake take = test::make_take(category, k);
        return test::errors_of(holds_heard_in(take, kTask),
                               test::true_holds_of(take, kTask.bridge));
    });
    test::HoldErrors sum;
    for (std::size_t k = 0; k < files.size(); ++k) {
        sum.add(files[k]);
        if (o.list_worst) name_if_bad(category, k, files[k]);
    }
    const Spread onset = spread_of(sum.onset_ms);
    const Spread offset = spread_of(sum.offset_ms);
    const Spread duration = spread_of(sum.duration_ms);
    const bool met = onset.median <= 15.0 && onset.p95 <= 40.0 && duration.median <= 40.0 &&
                     duration.p95 <= 100.0 && sum.missed == 0 && sum.invented == 0 &&
                     sum.gaps_missed == 0;
    std::printf("%-16s %5d | %6.1f %6.1f | %6.1f %6.1f | %6.1f %6.1f | %6d %8d %4d/%-4d %s\n",
                category.name.c_str(), sum.holds, onset.median, onset.p95, offset.median,
                offset.p95, duration.median, duration.p95, sum.missed, sum.invented,
                sum.gaps_missed, sum.gaps, met ? "met" : "MISSED");
}

void judge_negative(const test::HoldCategory& category, const Options& o)
{
    const auto counts = results_of(o.files, [&](int k) {
        return static_cast<int>(holds_heard_in(test::make_take(category, k), kTask).size());
    });
    int invented = 0;
    for (std::size_t k = 0; k < counts.size(); ++k) {
        invented += counts[k];
        if (o.list_worst && counts[k] > 0)
            std::printf("  %s, file %zu: %d\n", category.name.c_str(), k, counts[k]);
    }
    std::printf("%-16s %5d files, holds timed: %d %s\n", category.name.c_str(), o.files, invented,
                invented == 0 ? "met" : "MISSED");
}

int run(int argc, char** argv)
{
    const Options o = options_of(argc, argv);
    const auto begin = std::chrono::steady_clock::now();
    std::printf("Errors in ms: median and 95th percentile of their size. Goals: onset 15 and 40, "
                "duration 40 and 100, none missed or invented\n");
    std::printf("%-16s %5s | %13s | %13s | %13s | %6s %8s %9s\n", "category", "holds", "onset",
                "offset", "duration", "missed", "invented", "gaps lost");
    for (const test::HoldCategory& c : test::hold_categories())
        if (c.name.starts_with(o.only)) judge(c, o);
    std::printf("\nNo hold of a second or more is in these\n");
    for (const test::HoldCategory& c : test::not_hold_categories())
        if (c.name.starts_with(o.only)) judge_negative(c, o);
    const Seconds took = std::chrono::steady_clock::now() - begin;
    std::printf("\n%d files a category, %.1f s\n", o.files, took.count());
    return 0;
}

}  // namespace

}  // namespace holdwell::bench

int main(int argc, char** argv) { return holdwell::bench::run(argc, argv); }
