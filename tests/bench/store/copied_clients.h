#pragma once
// More clients, quickly: copies of those that are in the file, with ids of their own. Copied month
// by month, all clients in turn, as records come in over the years: each client's pages then lie
// scattered in the file, as they do in life.

#include <filesystem>

#include "app/base/result.h"

namespace holdwell::bench {

// From `there` clients, numbered from 1, to `clients`.
Outcome copy_clients(const std::filesystem::path& file, int there, int clients);

}  // namespace holdwell::bench
