#include "app/practice/summary.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "tests/app/practice/made_practice.h"
#include "tests/support/records/course.h"

namespace holdwell {
namespace {

using test::file_with;
using test::glide_of;
using test::hold_of;
using test::practice_on;

bool says(const std::vector<std::string>& lines, const std::string& line)
{
    return std::ranges::find(lines, line) != lines.end();
}

TEST_CASE("the words after a practice: goals, longest yet, near the note, breaks")
{
    const ClientFile file =
        file_with({practice_on(1, {hold_of(9.0), glide_of(12.0, 2), glide_of(12.0, 3)})});
    Practice now = practice_on(
        8, {hold_of(12.0), hold_of(8.0, DrillKind::ladder_hold, Note{60}), glide_of(14.0, 1)});
    for (Trial& trial : now.trials) trial.goal = Seconds{10.0};
    std::get<HoldMeasures>(now.trials[0].measures).in_band = Seconds{9.0};
    std::get<HoldMeasures>(now.trials[0].measures).onset = OnsetClass::easy;
    const std::vector<std::string> lines = words_after(file, now);
    CHECK(lines.size() == 6);
    CHECK(says(lines, "That was the whole practice. Well done."));
    CHECK(says(lines, "You reached your goal of 10 seconds on F4."));
    CHECK(says(lines, "Your longest yet on F4 (12 seconds)."));
    CHECK(says(lines, "You were near the note for 17 of 20 seconds."));
    CHECK(says(lines, "Fewer breaks in your glides than last week: 1 in 1, after 5 in 2."));
    CHECK(says(lines, "1 of 2 holds began easily."));
}

TEST_CASE("near the note all the time is said without figures")
{
    CHECK(says(words_after(file_with({}), practice_on(1, {hold_of(9.0)})),
               "You were near the note the whole time."));
}

TEST_CASE("nothing is said of goals not met, breaks not fewer, or a first time")
{
    const ClientFile file = file_with({practice_on(1, {hold_of(9.0), glide_of(12.0, 1)})});
    Practice now = practice_on(8, {hold_of(8.0), glide_of(12.0, 2)});
    now.trials[0].goal = Seconds{10.0};
    std::get<HoldMeasures>(now.trials[0].measures).in_band.reset();
    CHECK(words_after(file, now) ==
          std::vector<std::string>{"That was the whole practice. Well done."});
    // Of a first practice every hold is the longest: that is no news.
    const std::vector<std::string> first =
        words_after(file_with({}), practice_on(1, {hold_of(9.0)}));
    CHECK(std::ranges::none_of(
        first, [](const std::string& line) { return line.find("longest") != std::string::npos; }));
}

TEST_CASE("a hold in doubt is never a longest, nor one that a session has seen longer")
{
    Practice session = practice_on(1, {hold_of(20.0)});
    session.kind = PracticeKind::in_session;
    const ClientFile file = file_with({session, practice_on(2, {hold_of(9.0)})});
    Practice now = practice_on(3, {hold_of(15.0), hold_of(40.0)});
    std::get<HoldMeasures>(now.trials[1].measures).has_gap = true;
    for (const std::string& line : words_after(file, now)) {
        CAPTURE(line);
        CHECK(line.find("longest") == std::string::npos);
    }
}

TEST_CASE("stopping early is never blamed, stopping for discomfort is praised alone")
{
    Practice partial = practice_on(1, {hold_of(9.0)});
    partial.trials_asked = 16;
    partial.completion = Completion::partial;
    CHECK(words_after(file_with({}), partial)[0] ==
          "You sang one of 16. Every one of them counts.");
    Practice stopped = partial;
    stopped.completion = Completion::stopped_for_discomfort;
    CHECK(words_after(file_with({}), stopped) ==
          std::vector<std::string>{"You stopped when it was uncomfortable. That was right."});
    Practice rested = partial;
    rested.completion = Completion::not_today;
    CHECK(words_after(file_with({}), rested) ==
          std::vector<std::string>{"Resting was the right choice today."});
}

TEST_CASE("over weeks of practices: one to six lines, whether the record holds the practice or not")
{
    const ClientFile file = test::record_of({.days = 20});
    for (std::size_t i = 0; i < file.practices.size(); ++i) {
        CAPTURE(i);
        const std::vector<std::string> lines = words_after(file, file.practices[i]);
        CHECK(lines.size() >= 1);
        CHECK(lines.size() <= 6);
        ClientFile before = file;
        before.practices.resize(i);
        CHECK(words_after(before, file.practices[i]) == lines);
    }
}

}  // namespace
}  // namespace holdwell
