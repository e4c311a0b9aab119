#pragma once
// The taper: practising less and less once the goals are met, without losing them. Advice for the
// therapist, with its reasons: the step changes only when she changes it in the plan.
//
// The usual schedule (from memory of textbook chapters on the routine): steps of about a week,
// from the full plan down to one round of the ladder once a week; 85 % of the goal is to be kept,
// else one step back until it is.
//
// How a day is counted: for each hold the plan asks (drill and note), the mean of that day's
// trials, of all phonation or of the time in band as the plan says. A day is met when every hold's
// mean reaches the goal; a day on which some hold was not done says nothing. Trials in which
// samples were lost, or that are in doubt, do not count.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/practice/plan.h"
#include "app/practice/records.h"

namespace holdwell {

// Steps for these drills, to be edited. The ladder alone from the third step; without a ladder the
// holds there are, without any hold all drills.
Taper usual_taper(const std::vector<PlannedDrill>& drills);

enum class TaperMove {
    stay,
    next_step,  // may be offered to the therapist
    step_back,  // suggested to the therapist
};
struct TaperAdvice {
    TaperMove move{TaperMove::stay};
    std::string reasoning{};             // for the therapist; one or two sentences
    int days_met{0};                     // the latest practised days, all of them met
    std::optional<double> goal_share{};  // of the last seven days; absent with too few days
};

// Practices of this client, by moment begun; those of other plans and of earlier stays at the step
// are not looked at, nor those before the goal was set.
TaperAdvice taper_advice(const Plan& plan, std::span<const Practice> practices, Date today);

}  // namespace holdwell
