#pragma once
// The parts of a plan that are changed one level below its page: the steps of its taper, the
// therapist's voice as the model, and templates. Each is laid out onto a sheet; the plan must
// outlive it.

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "app/pages/plan_sections.h"
#include "app/pages/sheet.h"
#include "app/practice/plan.h"

namespace holdwell {

void lay_out_taper_steps(Sheet& sheet, Plan& plan, const std::function<void(std::size_t)>& open);

struct StepOnDesk {
    Plan& plan;
    std::size_t at;
    DrillsOnDesk drills;  // of that step
    std::function<void()> taken_out;
};
void lay_out_taper_step(Sheet& sheet, const StepOnDesk& desk);

struct ModelsOnDesk {
    Plan& plan;
    std::function<std::string()> focused_label;
    std::function<void(const ModelVoice&)> record;  // of that drill
    std::function<void(const ModelVoice&)> hear;
    std::function<void(std::string)> say;
};
void lay_out_models(Sheet& sheet, const ModelsOnDesk& desk);

void lay_out_templates(Sheet& sheet, const std::vector<Plan>& templates,
                       const std::function<void(const Plan&)>& begin_from);

}  // namespace holdwell
