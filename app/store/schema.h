#pragma once
// The tables, as numbered steps from an empty file to the present version (PRAGMA user_version).
// A step that has been released is never edited: files of its version are out there.
//
// Trials lie in the file by client, practice and number, so that reading three years of one client
// touches neighbouring pages, however many other clients the file holds. Tables are STRICT; units
// are in the names of the columns; days are text as in ISO 8601.

#include "app/store/connection.h"

namespace holdwell {

// From whatever version the file has to kStoreVersion, in one transaction.
void migrate(Connection& connection);

// What marks a file as ours (PRAGMA application_id): the letters HdWl.
inline constexpr int kApplicationId = 0x4864576c;

}  // namespace holdwell
