#pragma once
// Letters of UTF-8 text (RFC 3629).

#include <cstddef>
#include <optional>
#include <string_view>

namespace holdwell {

// Code points; absent when the bytes are no UTF-8.
std::optional<std::size_t> letters_in(std::string_view text);

// Line breaks, tabs and the other control characters of ASCII.
bool has_control(std::string_view text);
// The same, but for line breaks.
bool has_control_in_lines(std::string_view text);

}  // namespace holdwell
