#include "app/practice/cautions.h"

#include <doctest/doctest.h>

#include <string>

namespace holdwell {
namespace {

using std::chrono::days;

const Date kMonday{std::chrono::year{2026}, std::chrono::March, std::chrono::day{2}};

std::string all_words(const Advice& advice)
{
    std::string words = advice.title;
    for (const std::string& sentence : advice.sentences) words += " " + sentence;
    return words;
}

Practice rated(int day, SelfRating rating)
{
    Practice practice{.rating = rating};
    practice.begun.date = day_after(kMonday, days{day});
    return practice;
}

}  // namespace

TEST_CASE("any yes before a practice means no drills today, and the therapist is told")
{
    // Common practice, no single source.
    const BeforePractice yes[] = {
        {.pain = true}, {.hoarser = true}, {.unwell = true}, {.on_voice_rest = true}};
    for (const BeforePractice& answers : yes) {
        const auto advice = advice_before(answers);
        REQUIRE(advice);
        CHECK(advice->consequence == Consequence::no_drills_today);
        CHECK(all_words(*advice).find("therapist") != std::string::npos);
    }
    CHECK_FALSE(advice_before({}));
}

TEST_CASE("every answer and rating has a question of its own")
{
    CHECK(before_questions().size() == 4);
    for (const QuestionText& question : before_questions())
        CHECK(std::string{question.text}.ends_with("?"));
    CHECK(std::string{kEffortRating.question}.ends_with("?"));
    CHECK(std::string{kDiscomfortRating.question}.ends_with("?"));
}

TEST_CASE("what a rating calls for")
{
    struct Row {
        SelfRating rating;
        Consequence consequence;
    };
    // Discomfort of any kind is heeded: common practice; the numbers are chosen by us.
    const Row rows[] = {
        {{0, 0}, Consequence::go_on},           {{4, 0}, Consequence::go_on},
        {{5, 0}, Consequence::take_care},       {{7, 0}, Consequence::take_care},
        {{8, 0}, Consequence::stop_for_today},  {{0, 1}, Consequence::take_care},
        {{0, 3}, Consequence::take_care},       {{0, 4}, Consequence::stop_for_today},
        {{0, 10}, Consequence::stop_for_today}, {{10, 3}, Consequence::stop_for_today}};
    for (const Row& row : rows) {
        CAPTURE(row.rating.effort);
        CAPTURE(row.rating.discomfort);
        const Advice advice = advice_after(row.rating);
        CHECK(advice.consequence == row.consequence);
        CHECK_FALSE(advice.sentences.empty());
        if (row.consequence == Consequence::stop_for_today)
            CHECK(all_words(advice).find("therapist") != std::string::npos);
    }
}

TEST_CASE("stopping for discomfort or dizziness ends the day and is told to the therapist")
{
    for (const Advice& advice : {advice_on_discomfort(), advice_on_dizziness()}) {
        CHECK(advice.consequence == Consequence::stop_for_today);
        CHECK(all_words(advice).find("therapist") != std::string::npos);
    }
    CHECK(all_words(advice_on_dizziness()).find("breathe normally") != std::string::npos);
}

TEST_CASE("two days running that felt worse call for the therapist")
{
    struct Row {
        const char* name;
        std::vector<Practice> practices;
        bool calls;
    };
    Practice stopped;
    stopped.begun.date = day_after(kMonday, days{2});
    stopped.completion = Completion::stopped_for_discomfort;
    Practice in_pain;
    in_pain.begun.date = day_after(kMonday, days{3});
    in_pain.before.pain = true;
    in_pain.completion = Completion::not_today;
    Practice ill = in_pain;
    ill.before = {.unwell = true};
    const Row rows[] = {
        {"nothing", {}, false},
        {"comfortable", {rated(0, {2, 0}), rated(1, {2, 0}), rated(2, {2, 0})}, false},
        {"worse once", {rated(0, {2, 0}), rated(1, {2, 1}), rated(2, {2, 1})}, false},
        {"worse twice", {rated(0, {2, 0}), rated(1, {2, 1}), rated(2, {2, 2})}, true},
        {"worse twice with a day between",
         {rated(0, {2, 0}), rated(2, {2, 1}), rated(3, {2, 2})},
         true},
        {"more effort twice", {rated(0, {2, 0}), rated(1, {4, 0}), rated(2, {6, 0})}, true},
        {"a little more effort", {rated(0, {2, 0}), rated(1, {3, 0}), rated(2, {4, 0})}, false},
        {"the worst of each day",
         {rated(0, {2, 0}), rated(1, {2, 1}), rated(1, {2, 0}), rated(2, {2, 2}), rated(2, {2, 0})},
         true},
        {"stopped, then pain", {stopped, in_pain}, true},
        {"better, then pain", {rated(2, {2, 0}), in_pain}, false},
        {"a cold is no worse voice", {stopped, ill}, false},
        {"long ago", {rated(-20, {2, 0}), rated(-19, {2, 1}), rated(-18, {2, 2})}, false}};
    for (const Row& row : rows) {
        CAPTURE(row.name);
        const auto advice = advice_on_days(row.practices, day_after(kMonday, days{3}));
        CHECK(advice.has_value() == row.calls);
        if (advice) CHECK(advice->consequence == Consequence::contact_therapist);
    }
}

TEST_CASE("as many practices as the plan allows are enough for a day")
{
    Plan plan;  // two a day
    std::vector<Practice> practices(3);
    for (Practice& practice : practices) practice.begun.date = kMonday;
    practices[0].trials.resize(2);
    practices[1].trials.resize(1);
    CHECK(practices_on(practices, kMonday) == 2);  // one was never begun
    CHECK(practices_on(practices, day_after(kMonday, days{1})) == 0);
    CHECK_FALSE(advice_on_number(plan, 1));
    const auto advice = advice_on_number(plan, 2);
    REQUIRE(advice);
    CHECK(advice->consequence == Consequence::take_care);
    CHECK(all_words(*advice).find("twice") != std::string::npos);
    plan.most_practices_a_day = 4;
    CHECK_FALSE(advice_on_number(plan, 3));
}

TEST_CASE("the fixed cautions name the physician, when to stop, and that nothing is diagnosed")
{
    std::string words;
    for (const CautionText& caution : cautions())
        words += std::string{caution.title} + " " + caution.text + "\n";
    // Four weeks: Otolaryngol. Head Neck Surg. 158(1S), S1-S42, 2018 (from memory). The rest is
    // common practice.
    for (const char* said : {"physician first", "four weeks", "dizzy", "hurts", "fever",
                             "rest your voice", "Never squeeze", "does not examine or diagnose"}) {
        CAPTURE(said);
        CHECK(words.find(said) != std::string::npos);
    }
    CHECK(std::string{kPracticeAid}.find("does not examine, diagnose or replace care") !=
          std::string::npos);
}

TEST_CASE("no advice to a client grades, blames or names an illness")
{
    std::vector<Advice> all{advice_on_discomfort(), advice_on_dizziness()};
    for (int effort = 0; effort <= 10; ++effort)
        for (int discomfort = 0; discomfort <= 10; ++discomfort)
            all.push_back(advice_after({effort, discomfort}));
    for (const BeforePractice& answers : {BeforePractice{.pain = true}, {.hoarser = true}})
        all.push_back(*advice_before(answers));
    for (const Advice& advice : all)
        for (const char* never : {"score", "bad", "poor", "fail", "wrong", "nodule", "laryngitis",
                                  "you must", "missed", "s/z"}) {
            CAPTURE(never);
            CHECK(all_words(advice).find(never) == std::string::npos);
        }
}

}  // namespace holdwell
