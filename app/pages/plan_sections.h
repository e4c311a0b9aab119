#pragma once
// The parts of the plan page, each laid out onto a sheet from the plan that is being changed.
//
// The plan must outlive the sheet. Faults are those of the plan, each shown at its own row.

#include <functional>
#include <string>
#include <vector>

#include "app/pages/plan_editing.h"
#include "app/pages/sheet.h"
#include "app/practice/plan.h"

namespace holdwell {

struct PlanOnDesk {
    Plan plan;
    std::string ladder;  // as typed
    Date today{};
    std::vector<Fault> faults{};

    // Of that place or of one inside it: "drills" finds "drills[2].repetitions"; the first.
    std::string fault_at(const std::string& place) const;
};

void lay_out_words(Sheet& sheet, PlanOnDesk& desk);
void lay_out_voice(Sheet& sheet, PlanOnDesk& desk);
void lay_out_dose(Sheet& sheet, PlanOnDesk& desk);
void lay_out_hearing(Sheet& sheet, PlanOnDesk& desk);
void lay_out_keeping(Sheet& sheet, PlanOnDesk& desk);
void lay_out_taper_rules(Sheet& sheet, PlanOnDesk& desk);

// A list of drills with its keys: U and D move the line in focus, X takes it out.
struct DrillsOnDesk {
    DrillList& drills;
    std::function<std::string()> focused_label;
    std::function<void(std::string)> focus_on;
};
void lay_out_drills(Sheet& sheet, DrillsOnDesk desk);

}  // namespace holdwell
