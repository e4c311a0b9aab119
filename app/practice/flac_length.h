#pragma once
// How long a FLAC recording lasts, by its first block (RFC 9639, section 8.2), without decoding it.

#include <cstddef>
#include <optional>
#include <span>

#include "dsp/units.h"

namespace holdwell {

// Absent when the bytes are no FLAC file, or it does not say.
std::optional<Seconds> flac_length(std::span<const std::byte> flac);

}  // namespace holdwell
