#pragma once
// A plan as a file: JSON as assets/plan.schema.json describes it, with nothing lost either way.
//
// {"format": "holdwell plan", "version": 1, ...}. All other fields may be left out and take the
// defaults of app/practice/plan.h. A field that is not known is refused with its name; a file of a
// later version with one sentence. Model voices are FLAC in base64.

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/base/result.h"
#include "app/practice/plan.h"

namespace holdwell {

inline constexpr int kPlanFileVersion = 1;

// As a file's text, indented, ending with a newline.
std::string as_json(const Plan& plan);

// A plan exactly when there are no faults. Places are those of the JSON: "taper.steps[1].days";
// where it is no JSON at all, "line 3, column 14"; empty for the file as a whole.
struct PlanReading {
    std::optional<Plan> plan;
    std::vector<Fault> faults;
};
PlanReading read_plan(std::string_view json);

// "drills[2].repetitions: 11 is too many; 1 to 10 are possible."
std::string in_words(const Fault& fault);

// At most 80 MiB are read. A file that cannot be read is a fault without a place; models that
// cannot be played are faults, too (app/files/model_sound.h).
PlanReading load_plan(const std::filesystem::path& path);
// In place of what is there; whole or as it was (app/base/whole_file.h).
Outcome save_plan(const std::filesystem::path& path, const Plan& plan);

}  // namespace holdwell
