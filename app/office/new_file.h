#pragma once
// Where a file that is handed over goes, and what it is called.

#include <filesystem>
#include <string>

#include "app/base/whole_file.h"

namespace holdwell {

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
