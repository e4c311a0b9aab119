#include "app/practice/client_code.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "app/practice/utf8.h"

namespace holdwell {

namespace {

// At most so many letters of it.
std::string_view shortened(std::string_view text, std::size_t letters)
{
    std::size_t end = 0;
    for (; end < text.size(); ++end) {
        const bool begins_letter = (static_cast<unsigned char>(text[end]) & 0xC0U) != 0x80U;
        if (begins_letter && letters-- == 0) break;
    }
    return text.substr(0, end);
}

}  // namespace

std::string trimmed_code(std::string_view typed)
{
    constexpr std::string_view kBlank = " \t";
    const std::size_t first = typed.find_first_not_of(kBlank);
    if (first == std::string_view::npos) return "";
    return std::string{typed.substr(first, typed.find_last_not_of(kBlank) - first + 1)};
}

std::string fault_of_code(std::string_view code)
{
    const auto letters = letters_in(code);
    if (letters && *letters > 0 && *letters <= kMostCodeLetters && !has_control(code)) return "";
    return fmt::format("A client's code has 1 to {} letters or digits, on one line.",
                       kMostCodeLetters);
}

bool is_same_code(std::string_view a, std::string_view b)
{
    return std::ranges::equal(
        a, b, [](unsigned char x, unsigned char y) { return std::tolower(x) == std::tolower(y); });
}

std::string numbered_code(std::string_view code, int number)
{
    const std::string end = fmt::format(" ({})", number);
    return trimmed_code(shortened(code, kMostCodeLetters - end.size())) + end;
}

}  // namespace holdwell
