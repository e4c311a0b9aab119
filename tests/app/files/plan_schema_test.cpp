// The published schema and the reader say the same of a plan file: held against an independent
// validator of JSON Schema (Debian's python3-jsonschema).

#include <doctest/doctest.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <map>
#include <sstream>
#include <string>

#include "app/files/plan_file.h"
#include "tests/app/files/scratch_folder.h"
#include "tests/support/records/plan_examples.h"

namespace holdwell {
namespace {

const std::filesystem::path kAssets = std::filesystem::path{HOLDWELL_SOURCE_DIR} / "assets";

// What the validator says of the JSON files in a folder: name -> "ok" or "bad".
std::map<std::string, std::string> verdicts_on(const std::string& folder)
{
    const std::string script = std::string{HOLDWELL_SOURCE_DIR} + "/tests/app/files/validate.py";
    const std::string command = "/usr/bin/python3 '" + script + "' '" +
                                (kAssets / "plan.schema.json").string() + "' '" + folder + "'";
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

std::string file_name(const char* kind, std::size_t number)
{
    return std::string{kind} + std::to_string(number) + ".json";
}

}  // namespace

TEST_CASE("the plans that come with the program keep to the published schema")
{
    const auto verdicts = verdicts_on((kAssets / "plans").string());
    CHECK(verdicts.size() >= 6);
    for (const auto& one : verdicts) {
        CAPTURE(one.first);
        CHECK(one.second == "ok");
    }
}

TEST_CASE("any plan without a fault keeps to the schema, and each broken rule it knows breaks it")
{
    const test::ScratchFolder folder;
    test::Random random{21};
    constexpr std::size_t kPlans = 100;
    for (std::size_t i = 0; i < kPlans; ++i)
        folder.file(file_name("plan", i), as_json(test::random_plan(random)));
    const auto violations = test::violations();
    for (std::size_t i = 0; i < violations.size(); ++i) {
        Plan plan = test::plan_with_everything();
        violations[i].make(plan);
        folder.file(file_name("broken", i), as_json(plan));
    }
    auto verdicts = verdicts_on(folder.path(""));
    CHECK(verdicts.size() == kPlans + violations.size());
    for (std::size_t i = 0; i < kPlans; ++i) CHECK(verdicts[file_name("plan", i)] == "ok");
    for (std::size_t i = 0; i < violations.size(); ++i) {
        CAPTURE(i);
        CAPTURE(violations[i].place);
        const bool knows = violations[i].schema == test::Schema::knows;
        CHECK(verdicts[file_name("broken", i)] == (knows ? "bad" : "ok"));
    }
}

TEST_CASE("files that are wrong in kind are refused by the schema and by the reader alike")
{
    struct Row {
        const char* fields;
        const char* verdict;
    };
    const Row rows[] = {
        {R"("weeks": 6)", "ok"},
        {R"("weeks": 6.0)", "ok"},
        {R"("weeks": "six")", "bad"},
        {R"("weeks": 6.5)", "bad"},
        {R"("weeks": null)", "bad"},
        {R"("goal": null)", "ok"},
        {R"("goal": {"hold_s": 20})", "ok"},
        {R"("goal": {})", "bad"},
        {R"("goal": 20)", "bad"},
        {R"("week": 6)", "bad"},
        {R"("goal": {"hold_s": 20, "x": 1})", "bad"},
        {R"("drills": [])", "bad"},
        {R"("drills": [{}])", "bad"},
        {R"("drills": [{"kind": "s_hold"}])", "ok"},
        {R"("drills": [{"kind": "hum"}])", "bad"},
        {R"("drills": {"kind": "s_hold"})", "bad"},
        {R"("voice": {"set": "lower"})", "ok"},
        {R"("voice": {"set": "lower", "warm_up": "F4"})", "bad"},
        {R"("voice": {"warm_up": "A4"})", "bad"},
        {R"("voice": {"set": "own", "warm_up": "A4"})", "ok"},
        {R"("voice": {"set": "own", "ladder": ["Bb3", "C#4", "e♭4"]})", "ok"},
        {R"("voice": {"set": "own", "ladder": ["H4"]})", "bad"},
        {R"("voice": {"set": "own", "warm_up": "B1"})", "bad"},
        {R"("voice": {"set": "own", "warm_up": "Cb2"})", "bad"},
        {R"("voice": {"set": "own", "warm_up": "C6"})", "ok"},
        {R"("voice": {"set": "own", "warm_up": "B#5"})", "ok"},
        {R"("voice": {"set": "own", "warm_up": "C#6"})", "bad"},
        {R"("written": "2026-03-02")", "ok"},
        {R"("written": "2 March")", "bad"},
        {R"("written": 20260302)", "bad"},
        {R"("cue": "loud")", "bad"},
        {R"("keeps": "audio_too")", "ok"},
        {R"("taper": {"steps": [{"name": "once"}]})", "bad"},
        {R"("taper": {"steps": [{"name": "once", "drills": [{"kind": "s_hold"}]}]})", "ok"},
        {R"("models": [{"kind": "rising_glide", "flac_base64": "a b c"}])", "bad"},
        {R"("models": [{"kind": "rising_glide"}])", "bad"}};
    const test::ScratchFolder folder;
    for (std::size_t i = 0; i < std::size(rows); ++i)
        folder.file(file_name("file", i), R"({"format": "holdwell plan", "version": 1, )" +
                                              std::string{rows[i].fields} + "}");
    auto verdicts = verdicts_on(folder.path(""));
    for (std::size_t i = 0; i < std::size(rows); ++i) {
        CAPTURE(rows[i].fields);
        CHECK(verdicts[file_name("file", i)] == rows[i].verdict);
        const bool is_read = load_plan(folder.path(file_name("file", i))).plan.has_value();
        CHECK(is_read == (std::string{rows[i].verdict} == "ok"));
    }
}

}  // namespace holdwell
