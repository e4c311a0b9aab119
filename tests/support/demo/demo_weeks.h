#pragma once
// Invented clients of the demonstration, with weeks of practice: what every screen looks like full.
//
// One trial in ten or so is sung: a voice is rendered and measured by the program's own listener.
// The others are drawn around the same course with a seeded source of numbers. Nobody real.

#include <string_view>
#include <vector>

#include "app/practice/records.h"

namespace holdwell::test {

// The day the demonstration takes for today: the last of the weeks, in the afternoon.
inline constexpr Date kDemoToday{std::chrono::year{2026}, std::chrono::November,
                                 std::chrono::day{22}};

struct DemoClient {
    std::string_view file;   // its name, without an ending
    std::string_view story;  // what happens, in a sentence or two
    ClientFile records;
};

std::vector<std::string_view> demo_client_files();
// Always the same records; `file` is one of those. Takes some seconds: voices are rendered for it.
DemoClient demo_client(std::string_view file);

}  // namespace holdwell::test
