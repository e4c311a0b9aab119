#pragma once
// Files that are whole or not there: written beside, fsync, and given their name; readable by their
// owner alone (mode 0600). A file that is there already is never written over.

#include <filesystem>
#include <string>
#include <string_view>

#include "app/base/result.h"

namespace holdwell {

// Writes to `wanted` or, where that is taken, to the same name with a number: "plan-2.json". The
// path written to.
Result<std::filesystem::path> write_new_file(const std::filesystem::path& wanted,
                                             std::string_view bytes);

// `wanted`; or, where it is a folder or empty, a file of this name in it or in `folder`.
struct PlaceForFile {
    std::filesystem::path wanted;
    std::filesystem::path folder;
    std::string name;
};
std::filesystem::path path_for(const PlaceForFile& place);

// As a part of a file's name: whatever a file system, a shell or a person might stumble over is
// replaced by a hyphen.
std::string name_part(const std::string& text);

}  // namespace holdwell
