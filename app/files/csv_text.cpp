#include "app/files/csv_text.h"

#include <cstdlib>

namespace holdwell {

namespace {

bool is_number(const std::string& text)
{
    char* end = nullptr;
    std::strtod(text.c_str(), &end);
    return end == text.c_str() + text.size();
}

bool looks_like_a_formula(const std::string& text)
{
    return !text.empty() && std::string{"=+-@\t\r"}.find(text.front()) != std::string::npos &&
           !is_number(text);
}

}  // namespace

std::string csv_field(const std::string& text)
{
    const std::string shown = looks_like_a_formula(text) ? "'" + text : text;
    if (shown.find_first_of(",\"\r\n") == std::string::npos) return shown;
    std::string quoted = "\"";
    for (const char c : shown) {
        if (c == '"') quoted += '"';
        quoted += c;
    }
    return quoted + '"';
}

std::string csv_line(const std::vector<std::string>& fields)
{
    std::string line;
    for (const std::string& field : fields) {
        if (&field != &fields.front()) line += ',';
        line += csv_field(field);
    }
    return line + "\r\n";
}

}  // namespace holdwell
