#pragma once
// WAV and AIFF files put together byte by byte, so that a header may say anything.
//
// Layout: Multimedia Programming Interface and Data Specifications 1.0 (IBM and Microsoft, 1991);
// Audio Interchange File Format 1.3 (1989).

#include <bit>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace holdwell::test {

struct WavHeader {
    std::uint16_t format{1};  // 1: whole numbers, 3: floats
    std::uint16_t channels{1};
    std::uint32_t rate{48'000};
    std::uint16_t bits{16};
    std::optional<std::uint32_t> sound_bytes{};  // what the header promises; absent: the truth
};

inline std::string little_endian(std::uint64_t value, int bytes)
{
    std::string out;
    for (int i = 0; i < bytes; ++i) out += static_cast<char>(value >> (8 * i) & 0xFFU);
    return out;
}

inline std::string big_endian(std::uint64_t value, int bytes)
{
    const std::string little = little_endian(value, bytes);
    return {little.rbegin(), little.rend()};
}

inline std::string wav_bytes(const WavHeader& h, const std::string& sound)
{
    const std::uint32_t frame = h.channels * h.bits / 8U;
    const std::uint32_t length = h.sound_bytes.value_or(static_cast<std::uint32_t>(sound.size()));
    return "RIFF" + little_endian(36U + length, 4) + "WAVEfmt " + little_endian(16, 4) +
           little_endian(h.format, 2) + little_endian(h.channels, 2) + little_endian(h.rate, 4) +
           little_endian(h.rate * frame, 4) + little_endian(frame, 2) + little_endian(h.bits, 2) +
           "data" + little_endian(length, 4) + sound;
}

inline std::string pcm16(const std::vector<int>& values)
{
    std::string out;
    for (const int v : values) out += little_endian(static_cast<std::uint16_t>(v), 2);
    return out;
}

inline std::string floats(const std::vector<float>& values)
{
    std::string out;
    for (const float v : values) out += little_endian(std::bit_cast<std::uint32_t>(v), 4);
    return out;
}

// Mono, 16 bits, 48 000 samples a second.
inline std::string aiff_bytes(const std::vector<int>& values)
{
    std::string sound;
    for (const int v : values) sound += big_endian(static_cast<std::uint16_t>(v), 2);
    // 48 000 = 1.4648... * 2^15 as an 80-bit extended number: exponent 16383 + 15.
    const std::string rate = big_endian(16'383 + 15, 2) + big_endian(48'000ULL << 48U, 8);
    const std::string common = "COMM" + big_endian(18, 4) + big_endian(1, 2) +
                               big_endian(values.size(), 4) + big_endian(16, 2) + rate;
    const std::string data = "SSND" + big_endian(sound.size() + 8, 4) + big_endian(0, 8) + sound;
    return "FORM" + big_endian(4 + common.size() + data.size(), 4) + "AIFF" + common + data;
}

}  // namespace holdwell::test
