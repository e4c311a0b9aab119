// The records of demo-sessions/clients as they are kept: readable, and still what their generator
// makes.

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <variant>

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

// To a fiftieth of a second: other processors and libraries round their sines otherwise.
TEST_CASE("an invented client's records are those that the generator makes")
{
    const ClientFile made = test::demo_client("plover-5").records;
    const PracticeFileReading reading = read_practices(kept("plover-5"));
    REQUIRE(reading.file);
    const ClientFile& here = reading.file->records;
    CHECK(here.client.code == made.client.code);
    REQUIRE(here.practices.size() == made.practices.size());
    int holds = 0;
    for (std::size_t i = 0; i < made.practices.size(); ++i) {
        const Practice& expected = made.practices[i];
        const Practice& practice = here.practices[i];
        CHECK(practice.id == expected.id);
        CHECK(practice.completion == expected.completion);
        REQUIRE(practice.trials.size() == expected.trials.size());
        for (std::size_t j = 0; j < expected.trials.size(); ++j) {
            CHECK(practice.trials[j].id == expected.trials[j].id);
            const auto* hold = std::get_if<HoldMeasures>(&practice.trials[j].measures);
            const auto* as_made = std::get_if<HoldMeasures>(&expected.trials[j].measures);
            REQUIRE((hold != nullptr) == (as_made != nullptr));
            if (hold == nullptr) continue;
            ++holds;
            CHECK(std::abs((hold->hold_time - as_made->hold_time).count()) < 0.02);
        }
    }
    CHECK(holds > 100);
}
