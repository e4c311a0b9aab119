#pragma once
// What was practised but could not be stored yet, in the order it came, and how it stands beside
// what is stored.

#include <optional>
#include <span>
#include <variant>

#include "app/practice/records.h"

namespace holdwell {

// The client of this computer, made on its first start, with the plan she begins with.
struct HeldHome {
    Client client;
    Plan plan;
};
struct HeldPractice {
    Practice practice;  // without trials
};
struct HeldTrial {
    Id practice;
    Trial trial;
};
struct HeldClip {
    Id practice;
    Clip clip;
    Date made{};
};
using Held = std::variant<HeldHome, HeldPractice, HeldTrial, HeldClip>;

// Practice or trial in place of the one with its id, or beside those that are there.
void put_in(ClientFile& file, const Practice& practice);
void put_in(Practice& practice, const Trial& trial);

// Her file as it will be once all is stored. Absent: she is in neither.
std::optional<ClientFile> with_held(std::optional<ClientFile> stored, const Id& client,
                                    std::span<const Held> held);
std::optional<Practice> with_held(std::optional<Practice> stored, const Id& practice,
                                  std::span<const Held> held);

// The client of this computer among what is held.
std::optional<Id> home_in(std::span<const Held> held);

// All but what belongs to this practice.
std::vector<Held> without(const Id& practice, std::vector<Held> held);

// The same practices, of another client. Her own record, which was made for want of the other one,
// goes.
std::vector<Held> given_to(const Id& client, std::vector<Held> held);

}  // namespace holdwell
