// Files of every earlier version, as they were left, become files of the present one.

#include <doctest/doctest.h>

#include <algorithm>

#include "app/store/store.h"
#include "tests/app/files/scratch_folder.h"
#include "tests/app/store/raw.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

// Values expected below stand in tests/app/store/versions/version_*.sql.
std::string file_of_version(const ScratchFolder& scratch, int version)
{
    const std::string name = "version_" + std::to_string(version);
    const std::string sql = bytes_of(std::string{HOLDWELL_STORE_VERSIONS} + "/" + name + ".sql");
    REQUIRE_FALSE(sql.empty());
    std::string file = scratch.path(name + ".sqlite");
    RawDatabase database{file};
    REQUIRE(database.run(sql).empty());
    REQUIRE(database.value("PRAGMA user_version") == std::to_string(version));
    return file;
}

Date day(int year, unsigned month, unsigned of_month)
{
    return Date{std::chrono::year{year}, std::chrono::month{month}, std::chrono::day{of_month}};
}

const HoldMeasures& hold_in(const Practice& practice, std::size_t trial)
{
    return std::get<HoldMeasures>(practice.trials.at(trial).measures);
}

// What stands in every version.
void check_common(const ClientFile& file)
{
    CHECK(file.client.code == "Blue 7");
    REQUIRE(file.plans.size() == 2);
    CHECK(file.plans[0].goal->hold == Seconds{12.5});
    CHECK(file.plans[0].goal->origin == GoalOrigin::s_baseline);
    CHECK(file.plans[0].voice.ladder == std::vector{Note{48}, Note{50}});
    CHECK(file.plans[0].models.at(0).flac.size() == 4);
    CHECK(file.plans[1].taper.steps.at(0).drills.at(0).repetitions == 4);
    CHECK(file.plans[1].written == day(2025, 2, 17));
    REQUIRE(file.practices.size() == 2);
    CHECK(file.practices[0].id == Id{"r2"});  // begun earlier
    CHECK(file.practices[1].remark == "went \"well\"");
    CHECK(file.practices[1].sound_check->room == Dbfs{-62.5});
    CHECK(file.practices[1].rating->effort == 3);
    CHECK_FALSE(file.practices[0].rating);
    REQUIRE(file.practices[1].trials.size() == 4);
    CHECK(hold_in(file.practices[1], 0).in_band == Seconds{8.0});
    CHECK_FALSE(hold_in(file.practices[1], 1).f0_median);
    CHECK(hold_in(file.practices[1], 1).octaves_off == -1);
    const auto& glide = std::get<GlideMeasures>(file.practices[1].trials[3].measures);
    CHECK(glide.largest_jump == Semitones{3.5});
    CHECK(std::get<SibilantMeasures>(file.practices[0].trials.at(0).measures).fading_suspected);
}

ClientFile migrated(Store& store)
{
    CHECK(store.home_client().value() == Id{"c1"});
    auto file = store.client_file(Id{"c1"});
    REQUIRE(file);
    REQUIRE(file.value());
    return *file.value();
}

}  // namespace

TEST_CASE("a file of version 1 keeps all it says")
{
    const ScratchFolder scratch;
    auto store = Store::open(file_of_version(scratch, 1));
    REQUIRE(store);
    const ClientFile file = migrated(store.value());
    check_common(file);
    CHECK_FALSE(file.client.keeps_audio);
    CHECK_FALSE(file.client.onset_baseline);
    CHECK_FALSE(hold_in(file.practices[1], 0).quality);
    CHECK_FALSE(hold_in(file.practices[1], 1).doubt);
    // The week up to 20 February: asked at taper step 1 of the plan in force: 7. That plan counts
    // time in band, which was measured in t1 alone of the holds without a gap (t3 has one): 8 s.
    // Its goal is 10 s: 8 / 1 / 10 = 0.8.
    const auto roster = store.value().roster(day(2025, 2, 20));
    REQUIRE(roster.value().size() == 2);
    const RosterLine& line = roster.value()[0];
    CHECK(line.practices_this_week == 1);
    CHECK(line.asked_a_week == 7);
    CHECK(line.goal_share.value_or(0.0) == doctest::Approx(0.8));
    CHECK(line.reported_discomfort);
    CHECK(line.last_practice == day(2025, 2, 20));
}

TEST_CASE("a file of version 2 keeps all it says")
{
    const ScratchFolder scratch;
    auto store = Store::open(file_of_version(scratch, 2));
    REQUIRE(store);
    const ClientFile file = migrated(store.value());
    check_common(file);
    CHECK(file.client.keeps_audio);
    REQUIRE(file.client.onset_baseline);
    CHECK(file.client.onset_baseline->labelled == day(2025, 3, 1));
    CHECK(file.client.onset_baseline->onsets.at(0).label == OnsetClass::hard);
    CHECK(file.client.onset_baseline->onsets.at(0).features.overshoot == Decibels{4.0});
    CHECK(hold_in(file.practices[1], 0).quality->cpps == Decibels{14.0});
    CHECK(hold_in(file.practices[1], 0).loudness == Decibels{2.5});
    CHECK(hold_in(file.practices[1], 1).doubt == Doubt::noisy_room);
    CHECK(store.value().clip(Id{"t1"}).value()->flac.size() == 5);
    // As in version 1; t2 is in doubt and does not count either way.
    const auto roster = store.value().roster(day(2025, 2, 20));
    CHECK(roster.value().at(0).goal_share.value_or(0.0) == doctest::Approx(0.8));
}

TEST_CASE("a file of version 3 keeps all it says, and gains nothing that was never said")
{
    const ScratchFolder scratch;
    auto store = Store::open(file_of_version(scratch, 3));
    REQUIRE(store);
    const ClientFile file = migrated(store.value());
    check_common(file);
    CHECK(file.client.keeps_audio);
    CHECK(hold_in(file.practices[1], 1).doubt == Doubt::noisy_room);
    CHECK(file.goals.empty());
    CHECK(store.value().handed_out(Id{"c1"}).value().empty());
    const auto roster = store.value().roster(day(2025, 2, 20));
    CHECK(roster.value().at(0).practices_this_week == 1);
    CHECK(roster.value().at(0).goal_share.value_or(0.0) == doctest::Approx(0.8));
}

TEST_CASE("from every version one comes to the same tables, whole and free of loose ends")
{
    const ScratchFolder scratch;
    const std::string fresh = scratch.path("fresh.sqlite");
    REQUIRE(Store::open(fresh));
    constexpr const char* kTables = "SELECT type, name, sql FROM sqlite_schema ORDER BY name";
    const std::vector<std::string> tables = RawDatabase{fresh}.run(kTables);
    CHECK(tables.size() > 30);
    for (int version = 1; version < kStoreVersion; ++version) {
        CAPTURE(version);
        const std::string file = file_of_version(scratch, version);
        REQUIRE(Store::open(file));
        RawDatabase raw{file};
        CHECK(raw.run(kTables) == tables);
        CHECK(raw.value("PRAGMA user_version") == std::to_string(kStoreVersion));
        CHECK(raw.value("PRAGMA integrity_check") == "ok");
        CHECK(raw.run("PRAGMA foreign_key_check").empty());
    }
}

TEST_CASE("an older file is not changed by reading it, and cannot be read without being migrated")
{
    const ScratchFolder scratch;
    const std::string file = file_of_version(scratch, 1);
    const std::string before = bytes_of(file);
    CHECK_FALSE(Store::open_to_read(file));
    CHECK(bytes_of(file) == before);
}
