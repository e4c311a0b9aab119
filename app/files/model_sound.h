#pragma once
// Whether the models of a plan can be played: a plan is checked by the headings of its recordings
// (app/practice/plan_faults.cpp), a file that was handed over by all of their sound.

#include <vector>

#include "app/practice/plan.h"

namespace holdwell {

// Places are those of the plan's JSON: "models[0].flac_base64". Decodes every model: some 20 ms for
// each.
std::vector<Fault> faults_of_sound(const Plan& plan);

}  // namespace holdwell
