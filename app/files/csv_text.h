#pragma once
// Fields of CSV as RFC 4180 has them.

#include <string>
#include <vector>

namespace holdwell {

// Quoted when it holds a comma, a quote or a line's end; and when it begins with =, +, -, @ or a
// tab and is no number, with an apostrophe before it, since a spreadsheet would run it as a
// formula.
std::string csv_field(const std::string& text);
// The fields as given, with their commas and CR LF.
std::string csv_line(const std::vector<std::string>& fields);

}  // namespace holdwell
