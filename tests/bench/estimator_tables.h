#pragma once
// The tables that `estimators` prints.

#include <string>
#include <vector>

#include "tests/support/pitch_gallery.h"
#include "tests/support/pitch_score.h"

namespace holdwell::bench {

struct CategoryResult {
    const test::PitchCategory* category;
    std::vector<test::PitchScore> scores;  // by method; ours first
};

// One row a category: figures, goals, and whether they are met.
void print_goals(const std::vector<CategoryResult>& results);
// All methods beside each other, and which is first: fine error, gross errors, usable frames.
void print_comparison(const std::vector<CategoryResult>& results,
                      const std::vector<std::string>& names);

}  // namespace holdwell::bench
