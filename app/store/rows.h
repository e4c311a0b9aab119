#pragma once
// Records to rows and back. All of it throws SQLite::Exception (see connection.h); a caller that
// writes more than one row opens the transaction.

#include <cstdint>
#include <optional>
#include <vector>

#include "app/practice/additions.h"
#include "app/practice/records.h"
#include "app/store/connection.h"

namespace holdwell {

// Where a client's records lie in the file.
struct ClientKey {
    std::int64_t value{};
};
struct PracticeKey {
    ClientKey client;
    std::int64_t value{};
};

// ---- clients ---------------------------------------------------------------------------------

std::optional<ClientKey> key_of_client(Connection& connection, const Id& client);
void keep_client(Connection& connection, const Client& client);
std::optional<Client> read_client(Connection& connection, const Id& client);
std::vector<Id> read_client_ids(Connection& connection);  // by code
std::optional<Id> read_owner_of_plan(Connection& connection, const Id& plan);
std::optional<Id> read_owner_of_practice(Connection& connection, const Id& practice);
std::optional<Id> read_owner_of_trial(Connection& connection, const Id& trial);
void remove_client_rows(Connection& connection, ClientKey client);

std::optional<Id> read_home(Connection& connection);
void keep_home(Connection& connection, const Id& client);

// ---- plans -----------------------------------------------------------------------------------

// Where a revision that is not there yet is put: the last one is in force.
enum class PlanPlace { before_all, after_all };
void keep_plan(Connection& connection, ClientKey client, const Plan& plan, PlanPlace place);
std::vector<Plan> read_plans(Connection& connection, ClientKey client);  // oldest first

// ---- practices and trials --------------------------------------------------------------------

std::optional<PracticeKey> key_of_practice(Connection& connection, const Id& practice);
// Without its trials.
PracticeKey keep_practice_row(Connection& connection, ClientKey client, const Practice& practice);
void keep_trial(Connection& connection, PracticeKey practice, const Trial& trial);
void remove_trials(Connection& connection, PracticeKey practice);
// What a roster reads of the practice, from the trials that it has now; by app/practice/counting.h.
void sum_up(Connection& connection, PracticeKey practice);

std::optional<Practice> read_practice(Connection& connection, PracticeKey practice);
// With their trials; by moment begun.
std::vector<Practice> read_practices(Connection& connection, ClientKey client);

// Its trials and their sound go with it.
void remove_practice_rows(Connection& connection, PracticeKey practice);

// ---- goals that can be measured, and what left this computer ---------------------------------

void keep_goal(Connection& connection, ClientKey client, const ClientGoal& goal);
std::vector<ClientGoal> read_goals(Connection& connection, ClientKey client);  // by day set
void keep_handed_out(Connection& connection, ClientKey client, const HandedOut& file);
std::vector<HandedOut> read_handed_out(Connection& connection, ClientKey client);  // as it went

// ---- sound -----------------------------------------------------------------------------------

void keep_clip(Connection& connection, ClientKey client, const ClipAdded& added);
// A clip that is there already stays.
void add_clip(Connection& connection, ClientKey client, const ClipAdded& added);
std::optional<Clip> read_clip(Connection& connection, const Id& trial);
ClipsHeld clips_held(Connection& connection, ClientKey client);
void remove_clip_rows(Connection& connection, ClientKey client);
void remove_clip_rows_before(Connection& connection, ClientKey client, Date day);

// ---- the roster ------------------------------------------------------------------------------

// The rules of app/practice/counting.h as functions that a query may ask.
void add_rules(Connection& connection);
std::vector<RosterLine> read_roster(Connection& connection, Date today);

}  // namespace holdwell
