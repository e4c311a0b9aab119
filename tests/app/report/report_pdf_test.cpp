#include <doctest/doctest.h>

#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "app/report/report_pages.h"
#include "tests/support/records/course.h"

namespace holdwell {
namespace {

namespace fs = std::filesystem;
using std::chrono::days;
using test::Course;

// A PDF on disk, read by an independent library (poppler), and deleted at the end.
class PdfFile {
public:
    explicit PdfFile(const std::string& bytes)
        : path_{fs::temp_directory_path() / ("holdwell-report-test-" + std::to_string(::getpid()))}
    {
        std::ofstream{path_, std::ios::binary} << bytes;
    }
    ~PdfFile() { fs::remove(path_); }
    PdfFile(const PdfFile&) = delete;
    PdfFile& operator=(const PdfFile&) = delete;

    std::string text() const { return said("pdftotext -layout '" + path_.string() + "' -"); }
    // Paragraphs on one line each, so that a sentence can be looked for.
    std::string words() const
    {
        std::istringstream in{said("pdftotext '" + path_.string() + "' -")};
        std::string all;
        for (std::string word; in >> word;) all += word + " ";
        return all;
    }
    // "Pages", "Page size".
    std::string fact(const std::string& name) const
    {
        std::istringstream in{said("pdfinfo -isodates '" + path_.string() + "'")};
        for (std::string line; std::getline(in, line);) {
            if (!line.starts_with(name + ":")) continue;
            return line.substr(line.find_first_not_of(' ', name.size() + 1));
        }
        return {};
    }

private:
    static std::string said(const std::string& command)
    {
        std::FILE* pipe = ::popen(command.c_str(), "r");
        REQUIRE(pipe != nullptr);
        std::string text;
        std::array<char, 4096> part{};
        while (const std::size_t n = std::fread(part.data(), 1, part.size(), pipe))
            text.append(part.data(), n);
        REQUIRE(::pclose(pipe) == 0);
        return text;
    }

    fs::path path_;
};

struct Case {
    Course course{};
    ReportOptions options{};
    PaperSize paper{kA4};
};

std::string pdf_of(const Case& given)
{
    const ClientFile file = test::record_of(given.course);
    const Date last = day_after(given.course.begins, days{given.course.days - 1});
    ReportOptions options = given.options;
    options.made_on = last;
    auto pdf = report_pdf(report_view(file, whole_record(file, last), options), given.paper);
    REQUIRE(pdf.has_value());
    return pdf.value();
}

TEST_CASE("the report is read back as text: who, when, notes, goal, cautions, chart note")
{
    const PdfFile pdf{pdf_of({})};
    const std::string words = pdf.words();
    for (const char* expected : {"Voice practice report",
                                 "C-104",
                                 "1 March 2026 to 26 April 2026 (57 days)",
                                 "made on 26 April 2026",
                                 "Practice, done of asked",
                                 "Hold time in seconds",
                                 "F4, warm-up",
                                 "G4",
                                 "goal 18 s",
                                 "Glides",
                                 "Rising glide, range (semitones)",
                                 "Breaks per glide",
                                 "Onsets",
                                 "easy",
                                 "breathy",
                                 "Effort, self-rated",
                                 "Longest quiet /s/",
                                 "s/z ratio",
                                 "O: C-104. Home practice 2 March 2026",
                                 "does not diagnose",
                                 "not itself published",
                                 "page 2 of 2"}) {
        CAPTURE(expected);
        CHECK(words.find(expected) != std::string::npos);
    }
    CHECK(pdf.fact("Pages") == "2");
    CHECK(pdf.fact("Title") == "Voice practice report: C-104");
    CHECK(pdf.fact("Creator") == "Holdwell");
}

TEST_CASE("one or two pages, however much there is")
{
    struct Row {
        const char* name;
        Case given;
    };
    MeasurableGoal goal;
    goal.sound = "/o/";
    const std::string long_name(160, 'W');
    const Row rows[] = {
        {"a day", {.course = {.days = 1}}},
        {"eight weeks", {.course = {.days = 56}, .options = {.measurable = goal}}},
        {"half a year", {.course = {.days = 182}, .options = {.measurable = goal}}},
        {"three years", {.course = {.days = 1095}, .options = {.measurable = goal}}},
        {"three years on letter paper, long name",
         {.course = {.days = 1095, .code = std::string(40, 'M')},
          .options = {.name = long_name, .measurable = goal},
          .paper = kLetter}},
    };
    for (const Row& row : rows) {
        CAPTURE(row.name);
        const PdfFile pdf{pdf_of(row.given)};
        const int pages = std::stoi(pdf.fact("Pages"));
        CHECK(pages >= 1);
        CHECK(pages <= 2);
        CHECK(pdf.words().find("It does not examine, diagnose or replace") != std::string::npos);
    }
}

TEST_CASE("the paper is A4 (ISO 216) or US Letter")
{
    CHECK(PdfFile{pdf_of({})}.fact("Page size") == "595.28 x 841.89 pts (A4)");
    CHECK(PdfFile{pdf_of({.paper = kLetter})}.fact("Page size") == "612 x 792 pts (letter)");
}

TEST_CASE("accents, other scripts and long codes are text")
{
    const PdfFile pdf{pdf_of({.course = {.days = 7, .code = "Żółć-Ñandú-Œuvre-0123456789"},
                              .options = {.name = "Jean-François Łódź Ελένη Жанна"}})};
    CHECK(pdf.words().find("Jean-François Łódź Ελένη Жанна (Żółć-Ñandú-Œuvre-0123456789)") !=
          std::string::npos);
}

TEST_CASE("the same record on the same day is the same file, byte for byte")
{
    const std::string first = pdf_of({.course = {.days = 20}});
    CHECK(first == pdf_of({.course = {.days = 20}}));
    CHECK(first != pdf_of({.course = {.days = 20, .seed = 2}}));
    CHECK(first.starts_with("%PDF-"));
}

TEST_CASE("the file's own date is the day of the report, and none where days are numbered")
{
    CHECK(PdfFile{pdf_of({.course = {.days = 20}})}.fact("CreationDate").starts_with("2026-03-21"));
    const Course course{.days = 20};
    const DayForm numbered{.day_one = first_day_of(test::record_of(course))};
    const std::string bytes = pdf_of({.course = course, .options = {.days = numbered}});
    const PdfFile pdf{bytes};
    CHECK(pdf.fact("CreationDate").starts_with("2000-01-01"));  // says nothing
    CHECK(pdf.text().find("2026") == std::string::npos);
    CHECK(bytes.find("2026") == std::string::npos);
    CHECK(pdf.text().find("March") == std::string::npos);
}

TEST_CASE("fonts are inside the file, so that it looks the same elsewhere")
{
    const PdfFile pdf{pdf_of({.course = {.days = 7}})};
    CHECK(pdf.fact("Encrypted") == "no");
    CHECK(pdf_of({.course = {.days = 7}}).find("FontFile") != std::string::npos);
}

TEST_CASE("three years are written within seconds")
{
    const Case given{.course = {.days = 1095}};
    const ClientFile file = test::record_of(given.course);
    const Date last = day_after(given.course.begins, days{given.course.days - 1});
    const auto begun = std::chrono::steady_clock::now();
    const auto pdf =
        report_pdf(report_view(file, whole_record(file, last), {.made_on = last}), kA4);
    const Seconds took = std::chrono::steady_clock::now() - begun;
    CHECK(pdf.has_value());
    CHECK(took < Seconds{5.0});  // 0.3 s on two cores; slower under the sanitizers
}

}  // namespace
}  // namespace holdwell
