#pragma once
// Demonstrations: recordings of a voice, each with a .json beside it that says what the voice was
// asked for.

#include <filesystem>
#include <vector>

#include "app/practice/drill.h"

namespace holdwell {

// From "exercise" in the file of the same name that ends in .json: "hold", "glide up", "glide
// down", "s" or "z". The usual drill, a hold on F4, where there is no such file or it says
// something else.
Drill drill_of_demo(const std::filesystem::path& recording);

// The demonstrations of a folder, .flac with a .json beside it, in the order of their names; empty
// where there are none.
std::vector<std::filesystem::path> demos_in(const std::filesystem::path& folder);

// The recording, and if it is a demonstration, those of its folder that come after it and then
// those before it.
std::vector<std::filesystem::path> demos_from(const std::filesystem::path& recording);

}  // namespace holdwell
