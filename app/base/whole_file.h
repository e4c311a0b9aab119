#pragma once
// Files that are whole or not there: written in full, forced to the disk (file and folder), and
// only then given their name. Readable by their owner alone (mode 0600). Nothing is left behind by
// a crash where the file system knows files without a name; elsewhere a part ".NAME.XXXXXX.part"
// may be, and is removed by the next writing of the same name once it is ten minutes old.

#include <filesystem>
#include <string_view>

#include "app/base/result.h"

namespace holdwell {

// Never writes over a file: to `wanted` or, where that is taken, to the same name with a number,
// "plan-2.json". The path written to.
Result<std::filesystem::path> write_new_file(const std::filesystem::path& wanted,
                                             std::string_view bytes);

// In place of what is there: after a crash it is the old or the new one.
Outcome replace_file(const std::filesystem::path& path, std::string_view bytes);

}  // namespace holdwell
