#pragma once
// The practice under way on the window: who, by which plan, and its guide.

#include "app/engine/guided_practice.h"
#include "app/practice/records.h"

namespace holdwell {

struct GuidedRun {
    enum class Purpose { practice, baseline };

    Client client;
    Plan plan;
    Practice practice;  // with the trials kept so far
    Purpose purpose{Purpose::practice};
    GuidedPractice guided;
    bool is_begun{false};  // the records know of it
    int unanswered{0};     // trials on their way to the records
};

}  // namespace holdwell
