// The records of demo-sessions/clients as they are kept: readable, and still what their generator
// makes.

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "app/files/practice_file.h"
#include "tests/support/demo/demo_weeks.h"

using namespace holdwell;

namespace {

std::string kept(std::string_view name)
{
    const std::filesystem::path folder{HOLDWELL_DEMO_SESSIONS};
    std::ifstream file{folder / "clients" / (std::string{name} + ".json")};
    return {std::istreambuf_iterator<char>{file}, {}};
}

}  // namespace

TEST_CASE("every invented client's file is read without a fault, and ends on the same day")
{
    CHECK(test::demo_client_files().size() == 4);
    for (const std::string_view name : test::demo_client_files()) {
        CAPTURE(name);
        const PracticeFileReading reading = read_practices(kept(name));
        REQUIRE(reading.file);
        CHECK(reading.faults.empty());
        const auto& practices = reading.file->records.practices;
        REQUIRE(practices.size() > 15);
        CHECK(practices.back().begun.date <= test::kDemoToday);
    }
}

TEST_CASE("an invented client's records are those that the generator makes")
{
    const test::DemoClient made = test::demo_client("plover-5");
    CHECK(as_json({made.records, {}}) == kept("plover-5"));
}
