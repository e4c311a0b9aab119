#include "app/files/flac_bytes.h"
#include "app/files/plan_file.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "app/files/recording.h"
#include "app/practice/flac_length.h"
#include "tests/app/files/scratch_folder.h"
#include "tests/support/records/plan_examples.h"

namespace holdwell {
namespace {

// Of a plan file with these fields beside its format and version.
PlanReading read_fields(const std::string& fields)
{
    return read_plan(R"({"format": "holdwell plan", "version": 1)" +
                     (fields.empty() ? "" : ", " + fields) + "}");
}

std::string first_fault(const PlanReading& read)
{
    return read.faults.empty() ? "" : in_words(read.faults.front());
}

std::string text_in(const std::string& path)
{
    std::ifstream file{path, std::ios::binary};
    return (std::ostringstream{} << file.rdbuf()).str();
}

std::vector<std::byte> bytes_in(const std::string& path)
{
    std::vector<std::byte> bytes;
    for (const char c : text_in(path)) bytes.push_back(static_cast<std::byte>(c));
    return bytes;
}

}  // namespace

TEST_CASE("every plan without a fault comes back from its file as it was, to the last bit")
{
    test::Random random{11};
    for (int i = 0; i < 400; ++i) {
        CAPTURE(i);
        const Plan plan = test::random_plan(random);
        const std::string json = as_json(plan);
        const PlanReading read = read_plan(json);
        CHECK(first_fault(read) == "");
        REQUIRE(read.plan);
        CHECK(*read.plan == plan);
        CHECK(as_json(*read.plan) == json);
    }
}

TEST_CASE("each broken rule is named by the reader at the same place as by the plan itself")
{
    for (const test::Violation& violation : test::violations()) {
        CAPTURE(violation.place);
        Plan plan = test::plan_with_everything();
        violation.make(plan);
        const PlanReading read = read_plan(as_json(plan));
        CHECK_FALSE(read.plan);
        CHECK(read.faults == faults_of(plan));
    }
}

TEST_CASE("a file that says nothing but what it is holds the usual plan")
{
    const PlanReading read = read_fields("");
    REQUIRE(read.plan);
    CHECK(*read.plan == test::usual_plan());
    const PlanReading lower = read_fields(R"("voice": {"set": "lower"})");
    REQUIRE(lower.plan);
    CHECK(lower.plan->voice == notes_of(VoiceSet::lower));
    const PlanReading often = read_fields(R"("practices_a_day": 4)");
    REQUIRE(often.plan);
    CHECK(often.plan->most_practices_a_day == 4);
}

TEST_CASE("each bad field is named with its place, what it is and what it may be")
{
    struct Row {
        const char* fields;
        const char* fault;
    };
    const Row rows[] = {
        {R"("weeks": "six")", R"(weeks: It is "six"; it may be a whole number.)"},
        {R"("weeks": 6.5)", "weeks: It is 6.5; it may be a whole number."},
        {R"("weeks": 60)", "weeks: It is 60; it may be 1 to 26."},
        {R"("weeks": 1e12)",
         "weeks: It is 1000000000000.0; it may be a whole number of at most nine digits."},
        {R"("weeks": null)", "weeks: It is null; it may be a whole number."},
        {R"("rest_s": [15])", "rest_s: It is a list; it may be a number."},
        {R"("title": 3)", "title: It is 3; it may be text in quotation marks."},
        {R"("cue": "loud")", R"(cue: It is "loud"; it may be played or silent.)"},
        {R"("voice": {"warm_up": "H4"})",
         R"(voice.warm_up: It is "H4"; it may be a note such as "F4".)"},
        {R"("voice": {"set": "own", "ladder": ["C4", 62]})",
         R"(voice.ladder[1]: It is 62; it may be a note such as "F4".)"},
        {R"("drills": {})", "drills: It is an object; it may be a list, in brackets."},
        {R"("drills": [7])", "drills[0]: It is 7; it may be an object, in braces."},
        {R"("drills": [{}])",
         R"(drills[0].kind: It is missing; it may be a drill, such as "warm_up_hold".)"},
        {R"("drills": [{"kind": "hum"}])",
         "drills[0].kind: It is \"hum\"; it may be warm_up_hold, ladder_hold, rising_glide, "
         "falling_glide, s_hold or z_hold."},
        {R"("goal": {"hold_s": 20, "set_on": "2026-02-30"})",
         "goal.set_on: It is \"2026-02-30\"; it may be a day such as \"2026-03-02\"."},
        {R"("goal": {})", "goal.hold_s: It is missing; it may be 1 to 120, in seconds."},
        {R"("goal": 20)", "goal: It is 20; it may be an object, in braces."},
        {R"("taper": {"steps": [{"name": "once", "drills": [{"kind": "s_hold"}], "days": 0}]})",
         "taper.steps[0].days: It is 0; it may be 1 to 60."},
        {R"("models": [{"kind": "rising_glide", "flac_base64": "a b c"}])",
         R"(models[0].flac_base64: It is "a b c"; it may be bytes as base64 text.)"},
        {R"("week": 6)", "week: There is no such field here; leave it out."},
        {R"("my\nweeks": 6)", R"("my\nweeks": There is no such field here; leave it out.)"},
        {R"("goal": {"hold_s": 20, "hold": 20})",
         "goal.hold: There is no such field here; leave it out."}};
    for (const Row& row : rows) {
        CAPTURE(row.fields);
        const PlanReading read = read_fields(row.fields);
        CHECK_FALSE(read.plan);
        CHECK(first_fault(read) == row.fault);
        CHECK(read.faults.size() == 1);
    }
}

TEST_CASE("all bad fields of a file are named at once")
{
    const PlanReading read = read_fields(
        R"("weeks": 0, "rest_s": "long", "drills": [{"kind": "s_hold", "repetitions": 99}], "x": 1)");
    std::vector<std::string> places;
    for (const Fault& fault : read.faults) places.push_back(fault.place);
    std::sort(places.begin(), places.end());
    CHECK(places == std::vector<std::string>{"drills[0].repetitions", "rest_s", "weeks", "x"});
}

TEST_CASE("a file that is no plan, or one of a later version, is refused with one sentence")
{
    struct Row {
        const char* json;
        const char* fault;
    };
    const Row rows[] = {
        {R"({"weeks": 99})", "format: It is missing; it may be \"holdwell plan\"."},
        {R"({"format": "recipe", "version": 1, "flour": 2})",
         "format: It is \"recipe\"; it may be \"holdwell plan\"."},
        {R"({"format": "holdwell plan", "weeks": 99})", "version: It is missing; it may be 1."},
        {R"({"format": "holdwell plan", "version": 0})", "version: It is 0; it may be 1."},
        {R"({"format": "holdwell plan", "version": 2, "new": 1})",
         "version: It is 2: a later Holdwell wrote this plan, and a later one is needed to read "
         "it."},
        {"[]", "It is a list; it may be an object, in braces."},
        {"12", "It is 12; it may be an object, in braces."}};
    for (const Row& row : rows) {
        CAPTURE(row.json);
        const PlanReading read = read_plan(row.json);
        CHECK_FALSE(read.plan);
        CHECK(first_fault(read) == row.fault);
        CHECK(read.faults.size() == 1);
    }
}

TEST_CASE("what is no JSON is refused with the line and the column where it stops being it")
{
    struct Row {
        const char* json;
        const char* place;
    };
    const Row rows[] = {{"", "line 1, column 1"},
                        {"{\n  \"weeks\": 6,\n}", "line 3, column 1"},
                        {"{\n  \"weeks\": six\n}", "line 2, column 12"},
                        // Two letters before it in four bytes.
                        {"{\"\u00e9\u00e9\" 6}", "line 1, column 7"},
                        {"{\"a\": 1} more", "line 1, column 10"}};
    for (const Row& row : rows) {
        CAPTURE(row.json);
        const PlanReading read = read_plan(row.json);
        CHECK_FALSE(read.plan);
        REQUIRE(read.faults.size() == 1);
        CHECK(read.faults[0].place == row.place);
        CHECK(read.faults[0].sentence.find("not JSON") != std::string::npos);
    }
}

TEST_CASE("a field that stands twice, a number beyond all bounds and endless nesting are refused")
{
    CHECK(first_fault(read_fields(R"("weeks": 6, "weeks": 8)")) ==
          "The field \"weeks\" stands twice in one object.");
    CHECK(first_fault(read_fields(R"("drills": [{"kind": "s_hold", "kind": "z_hold"}])"))
              .find("twice") != std::string::npos);
    // The same name in two objects is none.
    CHECK(first_fault(read_fields(R"("drills": [{"kind": "s_hold"}, {"kind": "s_hold"}])")) == "");
    CHECK(first_fault(read_fields(R"("weeks": 1e999)")).find("too large") != std::string::npos);
    const std::string deep = std::string(100'000, '[') + std::string(100'000, ']');
    CHECK(first_fault(read_plan(deep)).find("deep") != std::string::npos);
}

TEST_CASE("a plan saved is the plan loaded, and what cannot be read is said with its name")
{
    const test::ScratchFolder folder;
    Plan plan = test::plan_with_everything();
    const auto sung =
        flac_of({.samples = std::vector<float>(8000, 0.1F), .sample_rate = {16'000.0}});
    REQUIRE(sung);
    for (ModelVoice& model : plan.models) model.flac = sung.value();
    const std::string path = folder.path("caf\u00e9 plan.json");
    REQUIRE(save_plan(path, plan));
    const PlanReading read = load_plan(path);
    REQUIRE(read.plan);
    CHECK(*read.plan == plan);
    CHECK_FALSE(std::filesystem::exists(path + ".part"));

    CHECK(first_fault(load_plan(folder.path("none.json"))) ==
          folder.path("none.json") + " cannot be opened: No such file or directory.");
    CHECK(first_fault(load_plan(folder.path(""))).find("is a folder") != std::string::npos);
    const auto lost = save_plan(folder.path("no/such/folder.json"), plan);
    REQUIRE_FALSE(lost);
    CHECK(lost.error().message.find("there is no such folder") != std::string::npos);
}

TEST_CASE("a model voice recorded as FLAC travels with the plan, too long a one does not")
{
    const test::ScratchFolder folder;
    // Lengths: samples over rate; written by libsndfile.
    for (const double length_s : {0.5, 14.9, 15.2}) {
        CAPTURE(length_s);
        Recording sung{.samples = {}, .sample_rate = {16'000.0}};
        sung.samples.resize(static_cast<std::size_t>(length_s * 16'000.0), 0.1F);
        REQUIRE(write_recording(folder.path("sung.flac"), sung, Encoding::flac_16_bit));
        const auto flac = bytes_in(folder.path("sung.flac"));
        const auto length = flac_length(flac);
        REQUIRE(length);
        CHECK(length->count() == doctest::Approx(length_s).epsilon(1e-4));
        Plan plan = test::usual_plan();
        plan.models = {{DrillKind::warm_up_hold, kF4, flac}};
        const PlanReading read = read_plan(as_json(plan));
        CHECK(read.plan.has_value() == (length_s < 15.0));
        if (read.plan) CHECK(read.plan->models[0].flac == flac);
    }
    CHECK_FALSE(flac_length(bytes_in(folder.file("no.flac", std::string(100, 'f')))));
}

TEST_CASE("the plans that come with the program can be practised and say what they are for")
{
    int plans = 0;
    const std::filesystem::path folder =
        std::filesystem::path{HOLDWELL_SOURCE_DIR} / "assets/plans";
    for (const auto& entry : std::filesystem::directory_iterator{folder}) {
        CAPTURE(entry.path().string());
        const PlanReading read = load_plan(entry.path());
        CHECK(first_fault(read) == "");
        REQUIRE(read.plan);
        CHECK(read.plan->id.text.empty());  // each client's plan gets one of its own
        CHECK_FALSE(read.plan->words_for_client.empty());
        CHECK(as_json(*read.plan) == text_in(entry.path().string()));
        ++plans;
    }
    CHECK(plans >= 6);
}

}  // namespace holdwell
