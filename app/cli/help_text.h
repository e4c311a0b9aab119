#pragma once
// What --help says.

#include <string_view>

namespace holdwell {

extern const std::string_view kHelp;
extern const std::string_view kMeasureHelp;
extern const std::string_view kCoachHelp;
extern const std::string_view kDevicesHelp;

}  // namespace holdwell
