#include "app/files/base64.h"

#include <array>
#include <cstdint>

namespace holdwell {
namespace {

constexpr std::string_view kDigits{
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/"};
constexpr std::uint8_t kNoDigit = 64;

constexpr std::array<std::uint8_t, 256> kValues = [] {
    std::array<std::uint8_t, 256> values{};
    values.fill(kNoDigit);
    for (std::size_t i = 0; i < kDigits.size(); ++i)
        values[static_cast<unsigned char>(kDigits[i])] = static_cast<std::uint8_t>(i);
    return values;
}();

std::size_t padding_of(std::string_view text)
{
    if (text.ends_with("==")) return 2;
    return text.ends_with('=') ? 1 : 0;
}

}  // namespace

std::string to_base64(std::span<const std::byte> bytes)
{
    std::string text;
    text.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        const std::size_t count = std::min<std::size_t>(3, bytes.size() - i);
        std::uint32_t group = 0;
        for (std::size_t k = 0; k < 3; ++k)
            group = group << 8U | (k < count ? std::to_integer<std::uint32_t>(bytes[i + k]) : 0U);
        for (std::size_t k = 0; k < 4; ++k)
            text += k <= count ? kDigits[group >> (18U - 6U * k) & 63U] : '=';
    }
    return text;
}

std::optional<std::vector<std::byte>> from_base64(std::string_view text)
{
    if (text.size() % 4 != 0) return std::nullopt;
    const std::string_view digits = text.substr(0, text.size() - padding_of(text));
    std::vector<std::byte> bytes;
    bytes.reserve(digits.size() * 3 / 4);
    std::uint32_t held = 0;
    unsigned bits = 0;
    for (const char c : digits) {
        const std::uint8_t value = kValues[static_cast<unsigned char>(c)];
        if (value == kNoDigit) return std::nullopt;
        held = (held << 6U | value) & 0xFFFU;
        bits += 6;
        if (bits < 8) continue;
        bits -= 8;
        bytes.push_back(static_cast<std::byte>(held >> bits & 0xFFU));
    }
    const bool unused_bits_zero = (held & ((1U << bits) - 1U)) == 0;
    return unused_bits_zero ? std::optional{std::move(bytes)} : std::nullopt;
}

}  // namespace holdwell
