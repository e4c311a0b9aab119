#pragma once
// Opening the file: its folder and modes, SQLite's settings, what is refused and in which words.

#include <filesystem>
#include <memory>

#include "app/base/result.h"
#include "app/store/connection.h"

namespace holdwell {

using Opened = Result<std::unique_ptr<Connection>>;

// Made, readable by its owner only, when it is missing; migrated when it is older.
Opened open_file(const std::filesystem::path& file);
Opened open_file_to_read(const std::filesystem::path& file);
Opened open_memory();

// One sentence: what was refused, where, and what to do.
Error refusal(const SQLite::Exception& exception, const std::filesystem::path& file);

}  // namespace holdwell
