#pragma once
// What is added to one client's records at once, when a file is taken in: all of it or nothing.

#include <vector>

#include "app/practice/records.h"

namespace holdwell {

struct ClipAdded {
    Clip clip;
    Date made{};
};

struct Additions {
    Client client;                    // as she is to be from now on; made when she is not there
    std::vector<Plan> earlier_plans;  // before all that are there: the plan in force stays
    std::vector<Plan> plans;          // after them: the last comes into force
    std::vector<Practice> practices;  // with all their trials; one with an id that is there is
                                      // replaced
    std::vector<ClipAdded> clips;     // a trial's clip that is there already stays
    std::vector<ClientGoal> goals;    // one with an id that is there is replaced
    bool empty() const
    {
        return plans.empty() && earlier_plans.empty() && practices.empty() && goals.empty();
    }
};

}  // namespace holdwell
