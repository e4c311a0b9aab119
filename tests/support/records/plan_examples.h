#pragma once
// Plans for tests: any that may be practised, and ones that break a single rule.

#include <functional>
#include <string>
#include <vector>

#include "app/practice/plan.h"
#include "tests/support/random.h"

namespace holdwell::test {

// A plan without a fault; every choice and every length of list are among many of them. Its id and
// its days are absent now and then.
Plan random_plan(Random& random);

// A FLAC file by its headings alone: a length and no sound (RFC 9639, section 8.2).
std::vector<std::byte> flac_headings(SampleRate rate, Seconds length);

// Where the schema of plan files can know of the rule as well.
enum class Schema { knows, cannot_know };

struct Violation {
    std::string place;
    std::function<void(Plan&)> make;  // of a plan without a fault: drills, a taper, a goal, a model
    Schema schema{Schema::knows};
};
// One of each rule of app/practice/plan.h, on either side of a range.
std::vector<Violation> violations();
Plan plan_with_everything();
// As it stands without a change.
Plan usual_plan();

}  // namespace holdwell::test
