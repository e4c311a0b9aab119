#pragma once
// What the voice of a demonstration was asked for, as the .json beside the recording says.

#include <filesystem>

#include "app/practice/drill.h"

namespace holdwell {

// From "exercise" in the file of the same name that ends in .json: "hold", "glide up", "glide
// down", "s" or "z". The usual drill, a hold on F4, where there is no such file or it says
// something else.
Drill drill_of_demo(const std::filesystem::path& recording);

}  // namespace holdwell
