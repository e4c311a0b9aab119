// The text expected of a file follows its description (assets/practices.schema.json and
// assets/practice-file.md), not the code under test.

#include "app/files/practice_file.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <regex>
#include <string>

#include "tests/support/records/random_records.h"

using namespace holdwell;
using test::RandomRecords;
using TestJson = nlohmann::ordered_json;

namespace {

PracticeFile random_file(std::uint64_t seed)
{
    RandomRecords random{seed};
    PracticeFile file{.records = random.file(3, 4), .clips = {}};
    for (const Practice& practice : file.records.practices)
        if (!practice.trials.empty())
            file.clips.push_back({practice.trials.front().id, random.bytes(200)});
    return file;
}

void check_same(const PracticeFile& a, const PracticeFile& b)
{
    CHECK(same(a.records.client, b.records.client));
    CHECK(a.records.plans == b.records.plans);
    CHECK(a.records.goals == b.records.goals);
    REQUIRE(a.records.practices.size() == b.records.practices.size());
    for (std::size_t i = 0; i < a.records.practices.size(); ++i)
        CHECK(same(a.records.practices[i], b.records.practices[i]));
    REQUIRE(a.clips.size() == b.clips.size());
    for (std::size_t i = 0; i < a.clips.size(); ++i) {
        CHECK(a.clips[i].trial == b.clips[i].trial);
        CHECK(a.clips[i].flac == b.clips[i].flac);
    }
}

std::string sentences(const std::vector<Fault>& faults)
{
    std::string all;
    for (const Fault& fault : faults) all += fault.place + ": " + fault.sentence + "\n";
    return all;
}

Date day(int year, unsigned month, unsigned d)
{
    return Date{std::chrono::year{year}, std::chrono::month{month}, std::chrono::day{d}};
}

// One practice with one hold, so small that all of it can be looked at.
PracticeFile small_file()
{
    PracticeFile file;
    file.records.client = {.id = {std::string(32, 'a')}, .code = "C-17", .since = day(2026, 3, 1)};
    Practice practice;
    practice.id = {std::string(32, 'b')};
    practice.client = file.records.client.id;
    practice.begun = {day(2026, 3, 2), {std::chrono::minutes{7 * 60 + 30}}};
    practice.completion = Completion::complete;
    Trial trial;
    trial.id = {std::string(32, 'c')};
    trial.target = kF4;
    trial.goal = Seconds{18.0};
    HoldMeasures hold;
    hold.hold_time = Seconds{12.25};
    hold.f0_median = Hertz{349.5};
    trial.measures = hold;
    practice.trials.push_back(trial);
    file.records.practices.push_back(practice);
    return file;
}

// The small file with one value changed, as text.
std::string changed(const std::string& pointer, const TestJson& value)
{
    TestJson json = TestJson::parse(as_json(small_file()));
    json[TestJson::json_pointer{pointer}] = value;
    return json.dump();
}

}  // namespace

TEST_CASE("everything of a client survives a file")
{
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        CAPTURE(seed);
        const PracticeFile file = random_file(seed);
        const PracticeFileReading reading = read_practices(as_json(file));
        CAPTURE(sentences(reading.faults));
        REQUIRE(reading.file);
        CHECK(reading.days == DaysInFile::dates);
        check_same(*reading.file, file);
        CHECK(as_json(*reading.file) == as_json(file));
    }
}

TEST_CASE(
    "with numbered days everything but the dates survives, and the dates come back with day 1")
{
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        CAPTURE(seed);
        const PracticeFile file = random_file(seed);
        const Date first = *first_day_of(file.records);
        const PracticeFileReading reading = read_practices(as_json(file, {.day_one = first}));
        CAPTURE(sentences(reading.faults));
        REQUIRE(reading.file);
        CHECK(reading.days == DaysInFile::numbers);
        check_same(with_day_one(*reading.file, first), file);
    }
}

TEST_CASE("with numbered days there is no date in the file")
{
    PracticeFile file = small_file();
    Plan plan;
    plan.id = {std::string(32, 'd')};
    plan.written = day(2026, 2, 27);
    plan.goal = Goal{.hold = Seconds{18.0}, .set_on = day(2026, 2, 27), .reasoning = ""};
    file.records.plans.push_back(plan);
    file.records.client.onset_baseline =
        OnsetBaselineRecord{.labelled = day(2026, 3, 1), .onsets = {}};
    const std::string text = as_json(file, {.day_one = day(2026, 3, 2)});
    CHECK_FALSE(std::regex_search(text, std::regex{"[0-9]{4}-[0-9]{2}"}));
    const TestJson json = TestJson::parse(text);
    CHECK(json["practices"][0]["day"] == 1);
    CHECK(json["client"]["since"] == 0);
    CHECK(json["client"]["onset_baseline"]["labelled"] == 0);
    CHECK(json["plans"][0]["written"] == -2);
}

TEST_CASE("goals that cannot be measured are named with their place, and a file may have none")
{
    PracticeFile file = small_file();
    ClientGoal goal;
    goal.id = Id{"0123456789abcdef0123456789abcdef"};
    goal.set_on = day(2026, 3, 2);
    file.records.goals = {goal};
    TestJson json = TestJson::parse(as_json(file));
    CHECK(json["goals"][0]["withdrawn_on"].is_null());
    CHECK(json["goals"][0]["set_on"] == "2026-03-02");
    json["goals"][0]["met"] = 5;  // of four trials
    json["goals"][0]["note"] = "C8";
    const std::string faults = sentences(read_practices(json.dump()).faults);
    CHECK(faults.find("goals[0].met") != std::string::npos);
    CHECK(faults.find("goals[0].note") != std::string::npos);
    json.erase("goals");  // as files were before goals were kept
    const PracticeFileReading reading = read_practices(json.dump());
    REQUIRE(reading.file);
    CHECK(reading.file->records.goals.empty());
}

TEST_CASE("a file is written as it is described")
{
    const TestJson json = TestJson::parse(as_json(small_file()));
    CHECK(json["format"] == "holdwell practices");
    CHECK(json["version"] == 1);
    CHECK(json["days"] == "dates");
    CHECK(json["holds"] ==
          "1 practice, 1 trial and 0 revisions of the plan of \"C-17\"; with dates "
          "and times; no recordings of the voice.");
    CHECK(json["client"]["code"] == "C-17");
    CHECK(json["practices"][0]["day"] == "2026-03-02");
    CHECK(json["practices"][0]["time"] == "07:30");
    CHECK(json["practices"][0]["completion"] == "complete");
    CHECK(json["practices"][0]["plan"].is_null());
    CHECK(json["practices"][0]["rating"].is_null());
    const TestJson& trial = json["practices"][0]["trials"][0];
    CHECK(trial["drill"] == "warm_up_hold");
    CHECK(trial["target"] == "F4");
    CHECK(trial["goal_s"] == 18.0);
    CHECK(trial["hold"]["hold_s"] == 12.25);
    CHECK(trial["hold"]["f0_median_hz"] == 349.5);
    CHECK(trial["hold"]["in_band_s"].is_null());
}

TEST_CASE("every bad field is named with its place, what stands there and what may")
{
    struct Row {
        const char* pointer;
        TestJson value;
        const char* place;
        const char* sentence;
    };
    const Row rows[] = {
        {"/practices/0/trials/0/hold/hold_s", -1, "practices[0].trials[0].hold.hold_s",
         "It is -1; it may be a number from 0 to 3600 s."},
        {"/practices/0/trials/0/hold/f0_median_hz", "high",
         "practices[0].trials[0].hold.f0_median_hz",
         "It is \"high\"; it may be a number from 1 to 20000 Hz."},
        {"/practices/0/trials/0/number", 1.5, "practices[0].trials[0].number",
         "It is 1.5; it may be a whole number."},
        {"/practices/0/trials/0/drill", "trill", "practices[0].trials[0].drill",
         "It is \"trill\"; it may be warm_up_hold, ladder_hold, rising_glide, falling_glide, "
         "s_hold "
         "or z_hold."},
        {"/practices/0/day", "2026-02-30", "practices[0].day",
         "It is \"2026-02-30\"; it may be a day such as \"2026-03-02\", or null."},
        {"/practices/0/day", nullptr, "practices[0].day", "A practice needs its day."},
        {"/practices/0/time", "24:00", "practices[0].time",
         "It is \"24:00\"; it may be a time such as \"07:30\"."},
        {"/practices/0/id", "7", "practices[0].id",
         "It is \"7\"; it may be an id of 32 digits, 0 to 9 and a to f."},
        {"/practices/0/rating", TestJson{{"effort", 11}, {"discomfort", 0}},
         "practices[0].rating.effort", "It is 11; it may be a number from 0 to 10."},
        {"/practices/0/mood", "fine", "practices[0].mood",
         "There is no such field here; leave it out."},
        {"/client/standing", 3, "client.standing", "It is 3; it may be active or archived."},
        {"/days", "weeks", "days", "It is \"weeks\"; it may be dates or numbers."},
        {"/version", 2, "version",
         "This file was written by a later version of Holdwell; open it with that one."},
        {"/practices/0/trials", 3, "practices[0].trials",
         "It is 3; it may be a list, in brackets."},
    };
    for (const Row& row : rows) {
        CAPTURE(row.pointer);
        const PracticeFileReading reading = read_practices(changed(row.pointer, row.value));
        CHECK_FALSE(reading.file);
        REQUIRE(reading.faults.size() >= 1);
        CHECK(reading.faults.front().place == row.place);
        CHECK(reading.faults.front().sentence == row.sentence);
    }
}

TEST_CASE("every field is missed when it is not there")
{
    const TestJson whole = TestJson::parse(as_json(random_file(7)));
    REQUIRE(read_practices(whole.dump()).file);
    int removed = 0;
    for (const char* pointer :
         {"/client", "/practices/0", "/practices/1/before", "/plans", "/clips"}) {
        const TestJson& at = whole[TestJson::json_pointer{pointer}];
        if (!at.is_object()) continue;
        for (const auto& item : at.items()) {
            const std::string key = item.key();
            TestJson less = whole;
            less[TestJson::json_pointer{pointer}].erase(key);
            CAPTURE(key);
            const PracticeFileReading reading = read_practices(less.dump());
            CHECK_FALSE(reading.file);
            ++removed;
        }
    }
    CHECK(removed > 20);
}

TEST_CASE("ids that stand for two things, and clips of no trial, are refused")
{
    PracticeFile file = small_file();
    file.records.practices.push_back(file.records.practices.front());
    const auto twice = read_practices(as_json(file));
    CHECK(sentences(twice.faults) ==
          "practices[1].id: Something else in this file has the same id.\n"
          "practices[1].trials[0].id: Something else in this file has the same id.\n");

    file = small_file();
    file.clips.push_back({{std::string(32, 'e')}, {}});
    CHECK(sentences(read_practices(as_json(file)).faults) ==
          "clips[0].trial: No trial of this file has this id.\n");
}

TEST_CASE("what is no practice file is told in one fault, and a faulty one in twenty at most")
{
    for (const char* text : {"", "{", "[]", "null", "{\"format\": \"holdwell plan\"}", "{}"}) {
        CAPTURE(text);
        const auto reading = read_practices(text);
        CHECK_FALSE(reading.file);
        CHECK(reading.faults.size() == 1);
    }
    TestJson json = TestJson::parse(as_json(small_file()));
    for (int i = 0; i < 100; ++i) json["practices"].push_back(i);
    CHECK(read_practices(json.dump()).faults.size() == 20);
}

TEST_CASE("a number that is none is written as the nearest that can be read")
{
    PracticeFile file = small_file();
    auto& hold = std::get<HoldMeasures>(file.records.practices[0].trials[0].measures);
    hold.snr = Decibels{std::nan("")};
    hold.deviation = Cents{std::nan("")};
    const auto reading = read_practices(as_json(file));
    REQUIRE(reading.file);
    const auto& read =
        std::get<HoldMeasures>(reading.file->records.practices[0].trials[0].measures);
    CHECK(read.snr.value == 0.0);
    CHECK_FALSE(read.deviation);
}

TEST_CASE("an id derived from content is the same for the same content, and only for it")
{
    RandomRecords random{3};
    const Practice practice = random.practice(random.id(), 3);
    Practice other = practice;
    other.remark += "!";
    CHECK(renamed_by_content(practice).id == renamed_by_content(practice).id);
    CHECK(renamed_by_content(practice).id != practice.id);
    CHECK(renamed_by_content(practice).id != renamed_by_content(other).id);
    CHECK(renamed_by_content(practice).trials[0].id != practice.trials[0].id);
    CHECK(renamed_by_content(practice).id.text.size() == 32);
}

TEST_CASE("the fields of a file may stand in any order, its head last as well")
{
    // RFC 8259, section 4: an object is an unordered collection.
    for (const bool numbered : {false, true}) {
        CAPTURE(numbered);
        const PracticeFile file = random_file(31);
        const DayForm days = numbered ? DayForm{.day_one = day(2026, 3, 2)} : DayForm{};
        const auto json = TestJson::parse(as_json(file, days));
        TestJson turned = TestJson::object();
        for (auto field = json.rbegin(); field != json.rend(); ++field)
            turned[field.key()] = field.value();
        const auto straight = read_practices(json.dump());
        const auto reading = read_practices(turned.dump());
        REQUIRE_MESSAGE(reading.file, sentences(reading.faults));
        CHECK(reading.days == straight.days);
        check_same(*reading.file, *straight.file);
    }
}

TEST_CASE("a fault deep in a file is told with its place, wherever the head stands")
{
    auto json = TestJson::parse(as_json(random_file(33)));
    json["practices"][2]["completion"] = "fled";
    const auto straight = read_practices(json.dump());
    const auto head = json["format"];
    json.erase("format");
    json["format"] = head;
    const auto turned = read_practices(json.dump());
    REQUIRE(straight.faults.size() == 1);
    CHECK(straight.faults[0].place == "practices[2].completion");
    CHECK(sentences(turned.faults) == sentences(straight.faults));
}
