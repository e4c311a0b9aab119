#pragma once
// What the records take from the world outside: time of day, chance, and the person's folders.

#include <ctime>
#include <filesystem>
#include <vector>

#include "app/practice/identity.h"

namespace holdwell {

// By the system's clock, in its time zone.
Moment moment_now();
Moment moment_of(std::time_t time);

// From the system's random numbers.
Id random_id();

// Empty when the person has no home folder.
std::filesystem::path usual_data_folder();  // XDG Base Directory Specification
std::filesystem::path usual_documents_folder();
// Documents, what was downloaded, the desktop, home, and media that are plugged in.
std::vector<std::filesystem::path> usual_file_folders();
// Plans to begin from, installed with the program; $HOLDWELL_PLANS if set.
std::filesystem::path usual_templates_folder();

}  // namespace holdwell
