#pragma once
// Records as the therapist's pages get them: typical, empty, and as much as there can be. Invented;
// nobody real.

#include <vector>

#include "app/pages/pages.h"
#include "app/practice/records.h"

namespace holdwell::test {

inline constexpr Date kDeskToday{std::chrono::year{2026}, std::chrono::April, std::chrono::day{26}};

// Eight weeks of practice twice a day, a plan with a goal and a taper, some audio kept.
OpenedClient eight_weeks();
// A client added today: neither a plan nor a practice.
OpenedClient nothing_yet();
// Three years twice a day, a code of forty letters with accents, a plan with everything in it.
OpenedClient three_years();

std::vector<RosterLine> twelve_clients();
std::vector<RosterLine> a_thousand_clients();

std::vector<Plan> some_templates();

}  // namespace holdwell::test
