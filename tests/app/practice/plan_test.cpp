#include "app/practice/plan.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "app/practice/plan_limits.h"
#include "tests/support/records/plan_examples.h"

namespace holdwell {
namespace {

bool has_fault_at(const std::vector<Fault>& faults, const std::string& place)
{
    return std::any_of(faults.begin(), faults.end(),
                       [&](const Fault& fault) { return fault.place == place; });
}

// "drills[0].repetitions" and "drills" are about the same thing.
bool is_all_about(const std::vector<Fault>& faults, const std::string& place)
{
    const std::string root = place.substr(0, place.find_first_of(".["));
    return std::all_of(faults.begin(), faults.end(),
                       [&](const Fault& fault) { return fault.place.starts_with(root); });
}

}  // namespace

TEST_CASE("the notes of the two sets are the prescribed ones")
{
    struct Row {
        VoiceSet set;
        double warm_up_hz;
        std::vector<double> ladder_hz;
    };
    // Equal temperament, A4 = 440 Hz (ISO 16), two decimals: F4 and C4 D4 E4 F4 G4, or an octave
    // lower.
    const Row rows[] = {{VoiceSet::higher, 349.23, {261.63, 293.66, 329.63, 349.23, 392.00}},
                        {VoiceSet::lower, 174.61, {130.81, 146.83, 164.81, 174.61, 196.00}}};
    for (const Row& row : rows) {
        const VoiceNotes notes = notes_of(row.set);
        CHECK(notes.set == row.set);
        CHECK(frequency_of(notes.warm_up).value == doctest::Approx(row.warm_up_hz).epsilon(3e-5));
        REQUIRE(notes.ladder.size() == row.ladder_hz.size());
        for (std::size_t i = 0; i < row.ladder_hz.size(); ++i)
            CHECK(frequency_of(notes.ladder[i]).value ==
                  doctest::Approx(row.ladder_hz[i]).epsilon(3e-5));
    }
}

TEST_CASE("a plan as it stands without a change can be practised")
{
    CHECK(faults_of(test::usual_plan()).empty());
    CHECK(faults_of(test::plan_with_everything()).empty());
}

TEST_CASE("every plan drawn within the ranges can be practised")
{
    test::Random random{4};
    for (int i = 0; i < 300; ++i) {
        CAPTURE(i);
        const auto faults = faults_of(test::random_plan(random));
        const std::string first = faults.empty() ? "" : faults[0].place + " " + faults[0].sentence;
        CHECK(first == "");
    }
}

TEST_CASE("each broken rule of a plan is named at its place, and nothing else is")
{
    for (const test::Violation& violation : test::violations()) {
        CAPTURE(violation.place);
        Plan plan = test::plan_with_everything();
        violation.make(plan);
        const std::vector<Fault> faults = faults_of(plan);
        REQUIRE_FALSE(faults.empty());
        CHECK(has_fault_at(faults, violation.place));
        CHECK(is_all_about(faults, violation.place));
    }
}

TEST_CASE("a fault says what the value is and what it may be")
{
    Plan plan = test::usual_plan();
    plan.drills[2].repetitions = 11;
    CHECK(faults_of(plan) ==
          std::vector<Fault>{{"drills[2].repetitions", "It is 11; it may be 1 to 10."}});
    plan = test::usual_plan();
    plan.rest = Seconds{5.0};
    CHECK(faults_of(plan) == std::vector<Fault>{{"rest_s", "It is 5 s; it may be 15 to 600 s."}});
    plan = test::usual_plan();
    plan.voice.set = VoiceSet::own;
    plan.voice.warm_up = Note{30};
    CHECK(faults_of(plan) ==
          std::vector<Fault>{{"voice.warm_up", "It is F#1; it may be C2 to C6."}});
}

TEST_CASE("both ends of a range may be taken")
{
    Plan plan = test::usual_plan();
    plan.practices_a_day = 6;
    plan.most_practices_a_day = 8;
    plan.weeks = 26;
    plan.band = Cents{10.0};
    plan.bridge = Seconds{0.5};
    plan.rest = Seconds{600.0};
    plan.goal = Goal{.hold = Seconds{120.0}, .origin = {}, .set_on = {}, .reasoning = {}};
    plan.taper.keep_share = 0.5;
    CHECK(faults_of(plan).empty());
    plan.practices_a_day = plan.most_practices_a_day = plan.weeks = 1;
    plan.band = Cents{300.0};
    plan.bridge = Seconds{0.1};
    plan.rest = Seconds{15.0};
    plan.goal->hold = Seconds{1.0};
    plan.taper.keep_share = 1.0;
    CHECK(faults_of(plan).empty());
}

TEST_CASE("a number that is none, a note beyond all names and text that is no UTF-8 are faults")
{
    Plan plan = test::usual_plan();
    plan.voice.set = VoiceSet::own;
    plan.band = Cents{std::nan("")};
    plan.rest = Seconds{std::numeric_limits<double>::infinity()};
    plan.voice.warm_up = Note{-40};
    plan.voice.ladder = {Note{2'000'000}};
    plan.title = "\xff\xfe";
    plan.written = Date{std::chrono::year{2026}, std::chrono::February, std::chrono::day{30}};
    std::set<std::string> places;
    for (const Fault& fault : faults_of(plan)) places.insert(fault.place);
    CHECK(places == std::set<std::string>{"band_cents", "rest_s", "voice.warm_up",
                                          "voice.ladder[0]", "title", "written"});
}

TEST_CASE("letters are counted as a reader counts them, not in bytes")
{
    Plan plan = test::usual_plan();
    plan.title.clear();
    for (int i = 0; i < 80; ++i) plan.title += "\u00e9";  // 160 bytes
    CHECK(faults_of(plan).empty());
    plan.title += "\u00e9";
    CHECK(has_fault_at(faults_of(plan), "title"));
}

TEST_CASE("the trials of a practice run through the drills, each note so many times")
{
    Plan plan = test::usual_plan();
    plan.drills = {{DrillKind::warm_up_hold, 1},
                   {DrillKind::rising_glide, 2},
                   {DrillKind::ladder_hold, 2},
                   {DrillKind::s_hold, 1}};
    plan.goal = Goal{.hold = Seconds{20.0}, .origin = {}, .set_on = {}, .reasoning = {}};
    plan.band = Cents{50.0};
    plan.bridge = Seconds{0.2};
    const std::vector<PlannedTrial> trials = trials_of(plan);
    REQUIRE(trials.size() == 1 + 2 + 5 * 2 + 1);
    CHECK(trials[0].drill.target == kF4);
    CHECK(trials[0].is_maximal);
    CHECK(trials[0].drill.goal == Seconds{20.0});
    CHECK(trials[2].drill.kind == DrillKind::rising_glide);
    CHECK(trials[2].repetition == 2);
    CHECK(trials[2].repetitions == 2);
    CHECK_FALSE(trials[2].is_maximal);
    CHECK_FALSE(trials[2].drill.goal);
    CHECK(trials[3].drill.target == Note{60});
    CHECK(trials[4].drill.target == Note{60});
    CHECK(trials[5].drill.target == Note{62});
    CHECK(trials[12].drill.target == Note{67});
    CHECK(trials[13].drill.kind == DrillKind::s_hold);
    CHECK(trials[13].is_maximal);
    CHECK_FALSE(trials[13].drill.goal);
    for (const PlannedTrial& trial : trials) {
        CHECK(trial.drill.band == Cents{50.0});
        CHECK(trial.drill.bridge == Seconds{0.2});
    }
}

TEST_CASE("the number of trials is what the drills add up to, for any plan")
{
    test::Random random{9};
    for (int i = 0; i < 200; ++i) {
        const Plan plan = test::random_plan(random);
        std::size_t expected = 0;
        for (const PlannedDrill& drill : drills_now(plan)) {
            const bool is_ladder = drill.kind == DrillKind::ladder_hold;
            expected += static_cast<std::size_t>(drill.repetitions) *
                        (is_ladder ? plan.voice.ladder.size() : 1);
        }
        CHECK(trials_of(plan).size() == expected);
    }
}

TEST_CASE("at a step of the taper its drills and its days are asked")
{
    Plan plan = test::usual_plan();
    plan.practices_a_day = 2;
    plan.taper.steps = {{"once", {{DrillKind::ladder_hold, 1}}, 7, 7}};
    CHECK(practices_a_week_now(plan) == 14);
    CHECK(drills_now(plan) == plan.drills);
    plan.taper_step = 1;
    CHECK(practices_a_week_now(plan) == 7);
    CHECK(trials_of(plan).size() == 5);
    plan.taper_step = 2;  // no such step: the full plan
    CHECK(practices_a_week_now(plan) == 14);
}

}  // namespace holdwell
