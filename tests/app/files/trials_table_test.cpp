// RFC 4180 is the source of the quoting, the line ends and the header.

#include "app/files/trials_table.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "app/files/csv_text.h"
#include "tests/support/records/random_records.h"

using namespace holdwell;
using test::RandomRecords;

namespace {

using Rows = std::vector<std::vector<std::string>>;

// A reader of its own, from RFC 4180, section 2.
Rows rows_of(const std::string& csv)
{
    Rows rows{{""}};
    bool in_quotes = false;
    for (std::size_t i = 0; i < csv.size(); ++i) {
        const char c = csv[i];
        if (in_quotes && c == '"' && i + 1 < csv.size() && csv[i + 1] == '"') {
            rows.back().back() += '"';
            ++i;
        } else if (c == '"') {
            in_quotes = !in_quotes;
        } else if (!in_quotes && c == ',') {
            rows.back().emplace_back();
        } else if (!in_quotes && c == '\r' && csv[i + 1] == '\n') {
            rows.emplace_back(1, "");
            ++i;
        } else {
            rows.back().back() += c;
        }
    }
    rows.pop_back();  // after the last line's end
    return rows;
}

std::string cell(const Rows& rows, std::size_t row, const std::string& column)
{
    const auto at = std::ranges::find(rows[0], column);
    REQUIRE_MESSAGE(at != rows[0].end(), column);
    return rows[row][static_cast<std::size_t>(at - rows[0].begin())];
}

Date march(unsigned d)
{
    return Date{std::chrono::year{2026}, std::chrono::March, std::chrono::day{d}};
}

ClientFile small_file()
{
    ClientFile file;
    file.client.code = "C-17";
    Practice practice;
    practice.id = {std::string(32, 'b')};
    practice.begun = {march(9), {std::chrono::minutes{450}}};
    practice.rating = SelfRating{.effort = 3, .discomfort = 0};
    practice.remark = "tired, but \"fine\"\nlater";
    Trial hold{.id = {std::string(32, 'c')}, .number = 1, .target = kF4, .goal = Seconds{18.0}};
    hold.measures = HoldMeasures{.hold_time = Seconds{12.3456}, .onset = OnsetClass::easy};
    Trial glide{.id = {std::string(32, 'd')}, .number = 2, .kind = DrillKind::rising_glide};
    glide.measures = GlideMeasures{.length = Seconds{4.0},
                                   .lowest = Hertz{220.0},
                                   .highest = Hertz{440.0},
                                   .jumps = 2,
                                   .gaps = 1};
    practice.trials = {hold, glide};
    file.practices.push_back(practice);
    Practice empty;
    empty.id = {std::string(32, 'e')};
    empty.begun = {march(10), {}};
    empty.completion = Completion::not_today;
    file.practices.push_back(empty);
    return file;
}

}  // namespace

TEST_CASE("each trial is a row, and a practice without one has its own")
{
    const Rows rows = rows_of(trials_table(small_file()));
    REQUIRE(rows.size() == 4);
    for (const auto& row : rows) CHECK(row.size() == rows[0].size());
    CHECK(cell(rows, 1, "code") == "C-17");
    CHECK(cell(rows, 1, "day") == "2026-03-09");
    CHECK(cell(rows, 1, "time") == "07:30");
    CHECK(cell(rows, 1, "trial") == "1");
    CHECK(cell(rows, 1, "drill") == "warm_up_hold");
    CHECK(cell(rows, 1, "target") == "F4");
    CHECK(cell(rows, 1, "hold_s") == "12.3456");
    CHECK(cell(rows, 1, "onset") == "easy");
    CHECK(cell(rows, 1, "effort") == "3");
    CHECK(cell(rows, 1, "remark") == "tired, but \"fine\"\nlater");
    CHECK(cell(rows, 2, "length_s") == "4");
    CHECK(cell(rows, 2, "breaks") == "3");
    CHECK(cell(rows, 2, "range_semitones") == "12");  // an octave
    CHECK(cell(rows, 3, "completion") == "not_today");
    CHECK(cell(rows, 3, "trial").empty());
}

TEST_CASE("what is unknown is empty, never 0")
{
    const Rows rows = rows_of(trials_table(small_file()));
    for (const char* column : {"f0_median_hz", "in_band_s", "jitter_percent", "lowest_hz",
                               "largest_jump_semitones", "room_dbfs", "doubt"}) {
        CAPTURE(column);
        CHECK(cell(rows, 1, column).empty());
    }
    CHECK(cell(rows, 2, "hold_s").empty());
    CHECK(cell(rows, 3, "effort").empty());
}

TEST_CASE("with numbered days no column has a date")
{
    const std::string table = trials_table(small_file(), {.day_one = march(9)});
    CHECK(table.find("2026") == std::string::npos);
    const Rows rows = rows_of(table);
    CHECK(cell(rows, 1, "day") == "1");
    CHECK(cell(rows, 3, "day") == "2");
}

TEST_CASE("any records give a table of even rows")
{
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        RandomRecords random{seed};
        const ClientFile file = random.file(1, 5);
        const Rows rows = rows_of(trials_table(file));
        std::size_t expected = 1;
        for (const Practice& p : file.practices)
            expected += std::max<std::size_t>(1, p.trials.size());
        CHECK(rows.size() == expected);
        for (const auto& row : rows) CHECK(row.size() == rows[0].size());
    }
}

TEST_CASE("a field that a spreadsheet would run as a formula is made text")
{
    CHECK(csv_field("=1+1") == "'=1+1");
    CHECK(csv_field("@x") == "'@x");
    CHECK(csv_field("-12.5") == "-12.5");
    CHECK(csv_field("+3") == "+3");
    CHECK(csv_field("-x") == "'-x");
    CHECK(csv_field("a,b") == "\"a,b\"");
    CHECK(csv_field("say \"ah\"") == "\"say \"\"ah\"\"\"");
}
