#pragma once
// The JSON of a plan inside app/files: for files that carry plans among other things. It is that of
// a plan file, "format" and "version" included.

#include <string>
#include <vector>

#include "app/files/json_reader.h"
#include "app/practice/plan.h"

namespace holdwell {

Json json_of(const Plan& plan);

struct PlanFromJson {
    Plan plan;                  // as far as it could be read
    std::vector<Fault> faults;  // types, unknown fields, and what faults_of() says of the rest
};
// `place` comes before each fault's place: "plans[0]"; empty for a plan file.
PlanFromJson plan_from(const Json& value, const std::string& place);

// Names that stand in files.
inline constexpr Names<DrillKind, 6> kDrillKindNames{{{DrillKind::warm_up_hold, "warm_up_hold"},
                                                      {DrillKind::ladder_hold, "ladder_hold"},
                                                      {DrillKind::rising_glide, "rising_glide"},
                                                      {DrillKind::falling_glide, "falling_glide"},
                                                      {DrillKind::s_hold, "s_hold"},
                                                      {DrillKind::z_hold, "z_hold"}}};

}  // namespace holdwell
