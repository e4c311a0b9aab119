#pragma once
// The practice under way on the window: who, by which plan, and its guide.

#include <vector>

#include "app/engine/guided_practice.h"
#include "app/office/requests.h"
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
    RequestNumber beginning{};
    std::vector<RequestNumber> keeping{};  // trials on their way to the records, oldest first
};

}  // namespace holdwell
