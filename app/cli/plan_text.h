#pragma once
// A plan in lines, for a person to look over.

#include <string>

#include "app/practice/plan.h"

namespace holdwell {

std::string text_of_plan(const Plan& plan);

}  // namespace holdwell
