#include "app/files/promised_length.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <fstream>
#include <string_view>

namespace holdwell {

namespace {

enum class ByteOrder { little, big };

struct Container {
    ByteOrder order;
    std::string_view sound_chunk;
};

using ChunkHeader = std::array<char, 8>;  // four letters, four bytes of length

std::optional<Container> container_of(std::string_view first_twelve)
{
    const std::string_view outer = first_twelve.substr(0, 4);
    const std::string_view inner = first_twelve.substr(8, 4);
    if (outer == "RIFF" && inner == "WAVE") return Container{ByteOrder::little, "data"};
    if (outer == "RIFX" && inner == "WAVE") return Container{ByteOrder::big, "data"};
    if (outer == "FORM" && (inner == "AIFF" || inner == "AIFC"))
        return Container{ByteOrder::big, "SSND"};
    return std::nullopt;
}

std::uint64_t length_in(const ChunkHeader& header, ByteOrder order)
{
    std::uint64_t length = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        const std::size_t at = order == ByteOrder::big ? 4 + i : 7 - i;
        length = length << 8U | static_cast<unsigned char>(header[at]);
    }
    return length;
}

bool left_open(std::uint64_t length)
{
    constexpr std::uint64_t kBeyond = (1ULL << 31U) - (1ULL << 20U);
    return length == 0 || length > kBeyond;
}

}  // namespace

std::optional<SoundBytes> sound_bytes_of(const std::string& path)
{
    std::ifstream file{path, std::ios::binary | std::ios::ate};
    const std::streamoff end = file.tellg();
    std::array<char, 12> first{};
    file.seekg(0);
    if (!file.read(first.data(), first.size())) return std::nullopt;
    const auto container = container_of({first.data(), first.size()});
    if (!container) return std::nullopt;

    ChunkHeader header{};
    while (file.read(header.data(), header.size())) {
        const std::uint64_t length = length_in(header, container->order);
        if (std::string_view{header.data(), 4} == container->sound_chunk) {
            if (left_open(length)) return std::nullopt;
            const auto left = static_cast<std::uint64_t>(end - file.tellg());
            return SoundBytes{.promised = length, .present = std::min(length, left)};
        }
        const std::uint64_t padded = length + (length & 1U);  // chunks begin at even places
        file.seekg(static_cast<std::streamoff>(padded), std::ios::cur);
    }
    return std::nullopt;
}

}  // namespace holdwell
