#include "app/practice/flac_length.h"

#include <cstdint>
#include <string_view>

namespace holdwell {

std::optional<Seconds> flac_length(std::span<const std::byte> flac)
{
    constexpr std::size_t kRateAt = 18;  // "fLaC", block heading, sizes of blocks and frames
    constexpr std::string_view kMarker{"fLaC"};
    if (flac.size() < 42) return std::nullopt;
    const auto at = [flac](std::size_t i) { return std::to_integer<std::uint64_t>(flac[i]); };
    for (std::size_t i = 0; i < kMarker.size(); ++i)
        if (at(i) != static_cast<unsigned char>(kMarker[i])) return std::nullopt;
    if ((at(4) & 0x7F) != 0) return std::nullopt;
    const std::uint64_t rate = at(kRateAt) << 12 | at(kRateAt + 1) << 4 | at(kRateAt + 2) >> 4;
    std::uint64_t samples = at(kRateAt + 3) & 0x0F;
    for (std::size_t i = kRateAt + 4; i < kRateAt + 8; ++i) samples = samples << 8 | at(i);
    if (rate == 0 || samples == 0) return std::nullopt;
    return Seconds{static_cast<double>(samples) / static_cast<double>(rate)};
}

}  // namespace holdwell
