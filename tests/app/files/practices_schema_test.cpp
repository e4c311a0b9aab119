// The published schema and the reader say the same of a practice file: held against an independent
// validator of JSON Schema (Debian's python3-jsonschema).

#include <doctest/doctest.h>

#include <array>
#include <cstdio>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "app/files/practice_file.h"
#include "tests/app/files/scratch_folder.h"
#include "tests/support/records/random_records.h"

using namespace holdwell;
using TestJson = nlohmann::ordered_json;

namespace {

// What the validator says of the JSON files in a folder: name -> "ok" or "bad".
std::map<std::string, std::string> verdicts_on(const std::string& folder)
{
    const std::string root = HOLDWELL_SOURCE_DIR;
    const std::string command = "/usr/bin/python3 '" + root + "/tests/app/files/validate.py' '" +
                                root + "/assets/practices.schema.json' '" + folder + "'";
    std::FILE* output = popen(command.c_str(), "r");
    REQUIRE(output != nullptr);
    std::string text;
    std::array<char, 4096> part{};
    while (std::fgets(part.data(), static_cast<int>(part.size()), output) != nullptr)
        text += part.data();
    REQUIRE(pclose(output) == 0);
    std::map<std::string, std::string> verdicts;
    std::istringstream lines{text};
    for (std::string name, verdict; lines >> name >> verdict;) verdicts[name] = verdict;
    return verdicts;
}

PracticeFile random_file(std::uint64_t seed)
{
    test::RandomRecords random{seed};
    PracticeFile file{.records = random.file(2, 4), .clips = {}};
    for (const Practice& practice : file.records.practices)
        if (!practice.trials.empty())
            file.clips.push_back({practice.trials.front().id, random.bytes(20)});
    return file;
}

// Changes to one file: each makes it one that must be refused.
struct Change {
    const char* pointer;
    TestJson value;
};
const Change kChanges[] = {
    {"/version", 2},
    {"/days", "weeks"},
    {"/client/id", "short"},
    {"/client/mood", "fine"},
    {"/practices/0/time", "24:00"},
    {"/practices/0/kind", "abroad"},
    {"/practices/0/rating", TestJson{{"effort", 11}, {"discomfort", 0}}},
    {"/practices/0/before/pain", "no"},
    {"/practices/0/trials/0/number", 0},
    {"/practices/0/trials/0/number", 1.5},
    {"/practices/0/trials/0/band_cents", 0},
    {"/practices/0/trials/0/drill", "trill"},
    {"/practices/0/trials/0/hold", nullptr},
    {"/practices/0/trials/0/glide", nullptr},
    {"/practices/0/trials/0/sibilant", nullptr},
    {"/practices/0/trials", 3},
    {"/clips", nullptr},
    {"/clips/0/flac_base64", "no bytes!"},
};

}  // namespace

TEST_CASE("any practice file that is written keeps to the published schema, with dates or numbers")
{
    const test::ScratchFolder folder;
    for (std::uint64_t seed = 1; seed <= 30; ++seed) {
        const PracticeFile file = random_file(seed);
        folder.file(std::to_string(seed) + ".json", as_json(file));
        folder.file(std::to_string(100 + seed) + ".json",
                    as_json(file, {.day_one = first_day_of(file.records)}));
    }
    const auto verdicts = verdicts_on(folder.path(""));
    CHECK(verdicts.size() == 60);
    for (const auto& one : verdicts) {
        CAPTURE(one.first);
        CHECK(one.second == "ok");
    }
}

TEST_CASE("what the schema refuses the reader refuses")
{
    const test::ScratchFolder folder;
    PracticeFile file = random_file(3);
    test::RandomRecords random{4};
    file.records.practices.insert(file.records.practices.begin(),
                                  random.practice(file.records.client.id, 2));
    const std::string text = as_json(file);
    REQUIRE_FALSE(file.clips.empty());
    std::map<std::string, bool> read;
    for (std::size_t i = 0; i < std::size(kChanges); ++i) {
        TestJson json = TestJson::parse(text);
        json[TestJson::json_pointer{kChanges[i].pointer}] = kChanges[i].value;
        const std::string name = std::to_string(i) + ".json";
        folder.file(name, json.dump());
        read[name] = read_practices(json.dump()).file.has_value();
    }
    for (const auto& one : verdicts_on(folder.path(""))) {
        CAPTURE(one.first);
        CHECK(one.second == "bad");
        CHECK_FALSE(read.at(one.first));
    }
    CHECK(read.size() == std::size(kChanges));
}
