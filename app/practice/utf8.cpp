#include "app/practice/utf8.h"

#include <algorithm>
#include <cstdint>

namespace holdwell {
namespace {

// Bytes of the letter that begins with `lead`; 0 where none may.
std::size_t bytes_of(unsigned char lead)
{
    if (lead < 0x80) return 1;
    if (lead < 0xC2) return 0;  // a byte that goes on, or a letter written longer than needed
    if (lead < 0xE0) return 2;
    if (lead < 0xF0) return 3;
    return lead < 0xF5 ? 4 : 0;
}

// The second byte's narrower range after some first ones: no surrogates, nothing overlong.
bool may_follow(unsigned char lead, unsigned char second)
{
    switch (lead) {
    case 0xE0:
        return second >= 0xA0;
    case 0xED:
        return second < 0xA0;
    case 0xF0:
        return second >= 0x90;
    case 0xF4:
        return second < 0x90;
    default:
        return true;
    }
}

bool is_control(char c)
{
    const auto byte = static_cast<unsigned char>(c);
    return byte < 0x20 || byte == 0x7F;
}

}  // namespace

std::optional<std::size_t> letters_in(std::string_view text)
{
    std::size_t letters = 0;
    for (std::size_t i = 0; i < text.size(); ++letters) {
        const auto byte_at = [&](std::size_t k) { return static_cast<unsigned char>(text[k]); };
        const std::size_t bytes = bytes_of(byte_at(i));
        if (bytes == 0 || i + bytes > text.size()) return std::nullopt;
        for (std::size_t k = i + 1; k < i + bytes; ++k)
            if ((byte_at(k) & 0xC0) != 0x80) return std::nullopt;
        if (bytes > 1 && !may_follow(byte_at(i), byte_at(i + 1))) return std::nullopt;
        i += bytes;
    }
    return letters;
}

bool has_control(std::string_view text)
{
    return std::any_of(text.begin(), text.end(), is_control);
}

bool has_control_in_lines(std::string_view text)
{
    return std::any_of(text.begin(), text.end(), [](char c) { return is_control(c) && c != '\n'; });
}

}  // namespace holdwell
