#pragma once
// The JSON of a plan inside app/files: for files that carry plans among other things.

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "app/practice/plan.h"

namespace holdwell {

// Keys in the order in which they are described.
using Json = nlohmann::ordered_json;

// Without "format" and "version".
Json json_of(const Plan& plan);

struct PlanFromJson {
    Plan plan;                  // as far as it could be read
    std::vector<Fault> faults;  // types, unknown fields, and what faults_of() says of the rest
};
// `place` comes before each fault's place: "plans[0]"; empty for a plan file.
PlanFromJson plan_from(const Json& object, const std::string& place);

}  // namespace holdwell
