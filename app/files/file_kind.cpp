#include "app/files/file_kind.h"

#include <array>
#include <cstddef>
#include <fstream>
#include <string_view>

namespace holdwell {

namespace {

// Up to the format tag of a WAV file whose "fmt " chunk is the first.
using FirstBytes = std::array<char, 22>;
constexpr std::size_t kShortest = 12;  // that tells the kind
constexpr std::streamoff kId3Header = 10;

// Seven bits a byte, the highest first.
std::streamoff id3_length(const FirstBytes& first)
{
    std::streamoff length = 0;
    for (std::size_t i = 6; i < 10; ++i)
        length = length << 7 | (static_cast<unsigned char>(first[i]) & 0x7F);
    return length;
}

std::string_view read_first(std::ifstream& file, std::streamoff at, FirstBytes& first)
{
    file.clear();
    file.seekg(at);
    file.read(first.data(), static_cast<std::streamsize>(first.size()));
    return {first.data(), static_cast<std::size_t>(file.gcount())};
}

// WAVE_FORMAT_MPEG and WAVE_FORMAT_MPEGLAYER3 (RFC 2361).
bool holds_mpeg(std::string_view wav)
{
    if (wav.size() < sizeof(FirstBytes) || wav.substr(12, 4) != "fmt ") return false;
    return wav[21] == 0 && (wav[20] == 0x50 || wav[20] == 0x55);
}

FileKind kind_of(std::string_view first)
{
    if (first.size() < kShortest) return FileKind::other;
    const std::string_view outer = first.substr(0, 4);
    const std::string_view inner = first.substr(8, 4);
    if (inner == "WAVE" && (outer == "RIFF" || outer == "RIFX" || outer == "RF64"))
        return holds_mpeg(first) ? FileKind::mpeg_in_wav : FileKind::listed;
    if (outer == "FORM" && (inner == "AIFF" || inner == "AIFC")) return FileKind::listed;
    if (outer == "fLaC" || outer == "OggS" || outer == "riff") return FileKind::listed;
    return FileKind::other;
}

}  // namespace

FileKind kind_of_file(const std::string& path)
{
    std::ifstream file{path, std::ios::binary};
    FirstBytes bytes{};
    std::string_view first = read_first(file, 0, bytes);
    if (first.size() >= kShortest && first.starts_with("ID3"))
        first = read_first(file, kId3Header + id3_length(bytes), bytes);
    return kind_of(first);
}

}  // namespace holdwell
