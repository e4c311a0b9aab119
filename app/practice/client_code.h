#pragma once
// What a client is found by: 1 to 40 letters or digits on one line, the same rule on every screen,
// in every file and at the command line, so that a code that came in can be found, shown and
// changed.

#include <cstddef>
#include <string>
#include <string_view>

namespace holdwell {

inline constexpr std::size_t kMostCodeLetters = 40;

// Without blanks around it.
std::string trimmed_code(std::string_view typed);
// One sentence, or empty when it may be a code.
std::string fault_of_code(std::string_view code);
// Capitals do not tell codes apart; letters beyond ASCII are compared as they are.
bool is_same_code(std::string_view a, std::string_view b);
// "code (2)", shortened where it would be too long.
std::string numbered_code(std::string_view code, int number);

}  // namespace holdwell
