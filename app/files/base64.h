#pragma once
// Bytes as text: base64 with padding, RFC 4648, section 4.

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace holdwell {

std::string to_base64(std::span<const std::byte> bytes);

// Nothing for any other text: no line breaks, padding complete, unused bits zero.
std::optional<std::vector<std::byte>> from_base64(std::string_view text);

}  // namespace holdwell
