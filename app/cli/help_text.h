#pragma once
// What --help says.

#include <string_view>

namespace holdwell {

extern const std::string_view kHelp;
extern const std::string_view kMeasureHelp;
extern const std::string_view kCoachHelp;
extern const std::string_view kDevicesHelp;
// On records (records_help.cpp).
extern const std::string_view kPlanHelp;
extern const std::string_view kClientHelp;
extern const std::string_view kPracticeHelp;
extern const std::string_view kExportHelp;
extern const std::string_view kImportHelp;
extern const std::string_view kReportHelp;
extern const std::string_view kRecordsHelp;

}  // namespace holdwell
