#pragma once
// All of one client as a file: who she is, her plans, practices and trials, and her clips if asked
// for. JSON as assets/practices.schema.json describes it, with nothing lost either way.
//
// {"format": "holdwell practices", "version": 1, "holds": "...", "days": "dates", ...}
//
// Days are dates, or numbers counted from her first practice (day 1; the day before it is day 0).
// With numbers there is no date anywhere in the file but in what somebody typed into a remark.
// A plan in it is a whole plan file (app/files/plan_file.h). No device has a serial number here.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/base/result.h"
#include "app/practice/day_text.h"
#include "app/practice/plan.h"
#include "app/practice/records.h"

namespace holdwell {

inline constexpr int kPracticeFileVersion = 1;

// The largest file that is taken in or written. Measured: three years of practising twice a day are
// 25 MB, and a minute of kept voice is 2 MB (48 kHz, FLAC, base64), so it holds four hours of voice.
// To take in those three years needs 52 MB of memory at most, sealed 274, of which the passphrase
// needs 256.
inline constexpr std::size_t kMostFileBytes = 512U * 1024U * 1024U;

struct PracticeFile {
    ClientFile records;
    std::vector<Clip> clips;  // of trials in the records
};

// As a file's text, indented, ending with a newline. `days`: with a day one, days are numbers.
std::string as_json(const PracticeFile& file, const DayForm& days = {});

// What such a file holds, in one sentence for whoever hands it on.
std::string contents_of(const PracticeFile& file, const DayForm& days = {});

// The day that day 1 stands on when a file with numbered days is read without knowing better:
// nobody's first practice, and plain to see in a list.
inline constexpr Date kNoDayOne{std::chrono::year{1900}, std::chrono::January, std::chrono::day{1}};

// How days stand in a file.
enum class DaysInFile { dates, numbers };
// A file exactly when there are no faults. Places are those of the JSON:
// "practices[3].trials[0].hold_s"; where it is no JSON at all, empty.
struct PracticeFileReading {
    std::optional<PracticeFile> file;  // days counted from kNoDayOne where they are numbers
    DaysInFile days{DaysInFile::dates};
    std::vector<Fault> faults;  // the first twenty
};
PracticeFileReading read_practices(std::string_view json);

// Every day of it moved so that day 1 stands on `day_one` instead of kNoDayOne.
PracticeFile with_day_one(PracticeFile file, Date day_one);

// Ids derived from content, the same on every computer: BLAKE2b, 128 bits, of the JSON.
Practice renamed_by_content(Practice practice);  // its trials, too
Plan renamed_by_content(Plan plan);

}  // namespace holdwell
