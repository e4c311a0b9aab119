// The usual schedule of the taper.

#include <algorithm>
#include <iterator>

#include "app/practice/drill_words.h"
#include "app/practice/taper.h"

namespace holdwell {
namespace {

std::vector<PlannedDrill> only(const std::vector<PlannedDrill>& drills, bool is_kept(DrillKind))
{
    std::vector<PlannedDrill> kept;
    std::copy_if(drills.begin(), drills.end(), std::back_inserter(kept),
                 [&](const PlannedDrill& drill) { return is_kept(drill.kind); });
    return kept;
}

std::vector<PlannedDrill> core_of(const std::vector<PlannedDrill>& drills)
{
    auto core = only(drills, [](DrillKind kind) { return kind == DrillKind::ladder_hold; });
    if (core.empty()) core = only(drills, has_target);
    return core.empty() ? drills : core;
}

std::vector<PlannedDrill> repeated(std::vector<PlannedDrill> drills, int repetitions)
{
    for (PlannedDrill& drill : drills) drill.repetitions = repetitions;
    return drills;
}

}  // namespace

Taper usual_taper(const std::vector<PlannedDrill>& drills)
{
    const std::vector<PlannedDrill> core = core_of(drills);
    const bool is_ladder = !core.empty() && core.front().kind == DrillKind::ladder_hold;
    const std::string part = is_ladder ? "the ladder alone" : "the holds alone";
    Taper taper;
    taper.steps = {{"everything twice, once a day", repeated(drills, 2), 7, 7},
                   {"everything once, once a day", repeated(drills, 1), 7, 7},
                   {part + " twice, once a day", repeated(core, 2), 7, 7},
                   {part + " once, once a day", repeated(core, 1), 7, 7},
                   {part + " once, three days a week", repeated(core, 1), 3, 7},
                   {part + " once, one day a week", repeated(core, 1), 1, 7}};
    return taper;
}

}  // namespace holdwell
