#include "app/practice/chart_note.h"

#include <doctest/doctest.h>

#include "tests/app/practice/made_practice.h"
#include "tests/support/records/course.h"

namespace holdwell {
namespace {

using std::chrono::days;
using test::day;
using test::file_with;
using test::glide_of;
using test::hold_of;
using test::practice_on;

std::string note_on(const ClientFile& file, int last_day, const DayForm& form = {})
{
    return chart_note(progress_of(file, whole_record(file, day(last_day))), "C-1", form);
}

TEST_CASE("the chart note gives counts and times, in the order of the page")
{
    ClientFile file = file_with(
        {practice_on(1, {hold_of(8.0), glide_of(12.0, 2)}), practice_on(2, {hold_of(9.0)}),
         practice_on(3, {hold_of(10.0)}), practice_on(8, {hold_of(14.0), glide_of(15.0, 1)}),
         practice_on(9, {hold_of(15.0)}), practice_on(10, {hold_of(16.0)})});
    file.plans[0].goal = Goal{.hold = Seconds{18.0}};
    file.practices[0].rating = SelfRating{.effort = 5, .discomfort = 2};
    file.practices[5].rating = SelfRating{.effort = 3, .discomfort = 0};
    CHECK(note_on(file, 10) ==
          "O: C-1. Home practice 2 March 2026 to 11 March 2026: 6 practices done of 19 asked "
          "(32 %): 6 complete, 0 in part. Mean hold per note, first and last week with three "
          "practised days or more: F4 (warm-up) 9.0 s in week 1, 15.0 s in week 2; goal 18 s. "
          "Glides (median range): rising, range 12.0 semitones and 2.0 breaks per glide in week 1, "
          "range 15.0 semitones and 1.0 breaks per glide in week 2. Onsets of holds as the program "
          "names them, week 1: 0 easy, 0 hard, 0 breathy, 3 unsure; week 2: 0 easy, 0 hard, 0 "
          "breathy, 3 unsure. Fry in 0 of 8 hold or glide trials. Self-ratings, 0 to 10, medians: "
          "week 1 effort 5.0, discomfort 2.0 (highest 2); week 2 effort 3.0, discomfort 0.0 "
          "(highest 0). 0 of 8 trials not counted (samples lost or measurement in doubt).");
}

TEST_CASE("the chart note of nothing says so")
{
    CHECK(note_on(file_with({}), 7) ==
          "O: C-1. Home practice 2 March 2026 to 8 March 2026: 0 practices done.");
}

TEST_CASE("numbered days leave no date in the chart note")
{
    const ClientFile file = test::record_of({.days = 30});
    const Date first = *first_day_of(file);
    const Progress progress = progress_of(file, whole_record(file, day_after(first, days{30})));
    const std::string text = chart_note(progress, file.client.code, {.day_one = first});
    CHECK(text.find("2026") == std::string::npos);
    CHECK(text.find("March") == std::string::npos);
    CHECK(text.find("day 31") != std::string::npos);
}

TEST_CASE("the chart note does not interpret")
{
    const ClientFile file = test::record_of({.days = 56});
    const std::string text = note_on(file, 56);
    for (const char* word : {"improv", "better", "worse", "normal", "should", "good", "poor"}) {
        CAPTURE(word);
        CHECK(text.find(word) == std::string::npos);
    }
}

TEST_CASE("days in words")
{
    CHECK(day_text(day(1), {}) == "2 March 2026");
    CHECK(short_day_text(day(1), {}) == "2 Mar");
    CHECK(day_text(day(15), {.day_one = day(1)}) == "day 15");
    CHECK(short_day_text(day(0), {.day_one = day(1)}) == "day 0");
}

}  // namespace
}  // namespace holdwell
