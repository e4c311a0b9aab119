// Any bytes given to the reader of practice files: it may refuse them, in sentences with places; or
// it reads them, and then what it wrote of them reads as the same.

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "app/files/practice_file.h"
#include "app/files/trials_table.h"

namespace {

void check_refusal(const holdwell::PracticeFileReading& reading)
{
    if (reading.faults.empty() || reading.faults.size() > 20) std::abort();
    for (const holdwell::Fault& fault : reading.faults) {
        if (fault.sentence.empty() || fault.sentence.find('\n') != std::string::npos) std::abort();
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size)
{
    const std::string text{bytes, bytes + size};
    const auto reading = holdwell::read_practices(text);
    if (!reading.file) {
        check_refusal(reading);
        return 0;
    }
    const holdwell::DayForm days = reading.days == holdwell::DaysInFile::numbers
                                       ? holdwell::DayForm{.day_one = holdwell::kNoDayOne}
                                       : holdwell::DayForm{};
    const std::string written = holdwell::as_json(*reading.file, days);
    const auto again = holdwell::read_practices(written);
    if (!again.file || holdwell::as_json(*again.file, days) != written) std::abort();
    (void)holdwell::trials_table(reading.file->records, days);
    return 0;
}
