#include <doctest/doctest.h>

#include <sys/stat.h>

#include <fstream>
#include <sstream>

#include "tests/app/office/desk_office.h"

namespace holdwell {
namespace {

namespace fs = std::filesystem;

using test::OfficeInFolder;
using test::ScratchFolder;

Client client_with_a_practice(OfficeInFolder& desk)
{
    const Client client = desk.ask<ClientAdded>(AddClient{"C-104"}).client;
    Practice practice;
    practice.client = client.id;
    practice = desk.ask<PracticeBegun>(BeginPractice{practice}).practice;
    desk.ask<TrialKept>(KeepTrial{practice.id, test::a_trial(1), {}});
    practice.completion = Completion::complete;
    desk.ask<PracticeClosed>(ClosePractice{practice});
    return client;
}

std::string begins(const fs::path& path, std::size_t count)
{
    std::ifstream in{path, std::ios::binary};
    std::string bytes(count, ' ');
    in.read(bytes.data(), static_cast<std::streamsize>(count));
    return bytes;
}

TEST_CASE("a report goes to the documents folder under the code and the day, for its owner alone")
{
    const ScratchFolder folder;
    OfficeInFolder desk{folder.path("data")};
    const Client client = client_with_a_practice(desk);
    const auto first = desk.ask<Written>(WriteReport{.client = client.id});
    CHECK(first.path == folder.path("holdwell-report-C-104-2026-03-02.pdf"));
    CHECK(begins(first.path, 5) == "%PDF-");
    struct stat facts {};
    REQUIRE(::stat(first.path.c_str(), &facts) == 0);
    CHECK((facts.st_mode & 0777U) == 0600U);
    CHECK(first.holds == "A report on \"C-104\", 2 March 2026 to 2 March 2026, with dates.");
    // Never over one that is there.
    const auto second = desk.ask<Written>(WriteReport{.client = client.id});
    CHECK(second.path == folder.path("holdwell-report-C-104-2026-03-02-2.pdf"));
    CHECK(fs::file_size(second.path) == fs::file_size(first.path));
}

TEST_CASE("numbered days: the name has no date either")
{
    const ScratchFolder folder;
    OfficeInFolder desk{folder.path("data")};
    const Client client = client_with_a_practice(desk);
    const auto written = desk.ask<Written>(
        WriteReport{.client = client.id, .dates = DateForm::day_numbers, .paper = Paper::letter});
    CHECK(written.path.filename() == "holdwell-report-C-104-day-1.pdf");
    CHECK(written.holds == "A report on \"C-104\", day 1 to day 1, without dates.");
}

TEST_CASE("a report is refused with a reason: nobody, an impossible period, a goal out of range")
{
    const ScratchFolder folder;
    OfficeInFolder desk{folder.path("data")};
    CHECK(desk.refusal(WriteReport{.client = {"nobody"}}).starts_with("This client is not in"));
    const Client client = client_with_a_practice(desk);
    const Date today = desk.now.date;
    CHECK(desk.refusal(WriteReport{
              .client = client.id, .from = today, .to = day_after(today, std::chrono::days{-3})}) ==
          "The report cannot begin on 2 March 2026 and end on 27 February 2026; give an earlier "
          "beginning.");
    MeasurableGoal goal;
    goal.hold = Seconds{500.0};
    CHECK(desk.refusal(WriteReport{.client = client.id, .measurable = goal}) ==
          "The hold may be 1 to 120 s.");
    CHECK(desk.refusal(WriteReport{.client = client.id, .path = folder.path("no/a.pdf")})
              .find("there is no such folder") != std::string::npos);
}

}  // namespace
}  // namespace holdwell
