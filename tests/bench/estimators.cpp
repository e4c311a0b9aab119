// Judges our f0 estimator, and those of aubio beside it, on every kind of recording.
//
//   estimators                 all methods, 50 files a category, all tables
//   estimators --quick         ours alone, 12 files a category, without bias and efficiency
//   estimators --only natural  one category (its beginning is enough)
//   estimators --files 100     so many files a category
//   estimators --ours          ours alone, whatever the number of files
//   estimators --worst         names each file with gross errors

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "tests/bench/estimator_extras.h"
#include "tests/bench/estimator_tables.h"
#include "tests/bench/parallel.h"
#include "tests/bench/pitch_method.h"

namespace holdwell::bench {

namespace {

struct Options {
    int files{50};
    std::size_t methods{method_kinds().size()};
    std::string only;
    bool list_worst{false};
    Extras extras{Extras::all};
};

Options options_of(int argc, char** argv)
{
    Options o;
    for (int k = 1; k < argc; ++k) {
        const std::string_view word = argv[k];
        if (word == "--quick") {
            o.files = 12;
            o.methods = 1;
            o.extras = Extras::quick;
        } else if (word == "--ours") {
            o.methods = 1;
        } else if (word == "--worst") {
            o.list_worst = true;
        } else if (word == "--only" && k + 1 < argc) {
            o.only = argv[++k];
        } else if (word == "--files" && k + 1 < argc) {
            o.files = std::max(1, std::atoi(argv[++k]));
        } else {
            std::printf("estimators [--quick] [--ours] [--only CATEGORY] [--files N] [--worst]\n");
            std::exit(2);
        }
    }
    return o;
}

// Errors of every method on one file.
using FileErrors = std::vector<test::PitchErrors>;

FileErrors judge(const test::ScriptedTake& take, const std::vector<Seconds>& delays)
{
    FileErrors errors;
    for (std::size_t m = 0; m < delays.size(); ++m) {
        const auto course = estimates_of(method_kinds()[m], take.samples, take.rate);
        errors.push_back(test::errors_of(course, take, delays[m]));
    }
    return errors;
}

CategoryResult judge(const test::PitchCategory& category, const Options& o,
                     const std::vector<Seconds>& delays)
{
    const auto files =
        results_of(o.files, [&](int k) { return judge(test::make_take(category, k), delays); });
    CategoryResult result{&category, {}};
    for (std::size_t m = 0; m < delays.size(); ++m) {
        std::vector<test::PitchErrors> parts;
        for (const FileErrors& f : files) parts.push_back(f[m]);
        result.scores.push_back(test::score_of(test::joined(parts)));
    }
    for (std::size_t k = 0; o.list_worst && k < files.size(); ++k) {
        const test::PitchScore s = test::score_of(files[k].front());
        if (s.gross_percent > 0.0 || s.silent_percent > 0.0)
            std::printf("  %s, file %zu: gross %.1f %%, silent %.1f %%\n", category.name.c_str(), k,
                        s.gross_percent, s.silent_percent);
    }
    return result;
}

std::vector<CategoryResult> judge_all(const Options& o, const std::vector<Seconds>& delays)
{
    std::vector<CategoryResult> results;
    for (const test::PitchCategory& c : test::pitch_categories())
        if (c.name.starts_with(o.only)) results.push_back(judge(c, o, delays));
    return results;
}

int run(int argc, char** argv)
{
    const Options o = options_of(argc, argv);
    const auto begin = std::chrono::steady_clock::now();
    std::vector<std::string> names;
    for (std::size_t m = 0; m < o.methods; ++m) names.push_back(method_kinds()[m].name);

    const std::vector<Seconds> delays = fitted_delays(o.methods);
    const std::vector<CategoryResult> results = judge_all(o, delays);
    print_goals(results);
    if (o.methods > 1) print_comparison(results, names);
    if (o.only.empty()) print_extras(names, delays, o.files, o.extras);
    const Seconds took = std::chrono::steady_clock::now() - begin;
    std::printf("\n%d files a category, %.1f s\n", o.files, took.count());
    return 0;
}

}  // namespace

}  // namespace holdwell::bench

int main(int argc, char** argv) { return holdwell::bench::run(argc, argv); }
