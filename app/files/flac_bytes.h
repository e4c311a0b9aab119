#pragma once
// Sound as the bytes of a FLAC file and back, in memory: model voices travel so with a plan, and
// trials lie so in the records. 16 bits, mono.

#include <cstddef>
#include <span>
#include <vector>

#include "app/base/result.h"
#include "app/files/recording.h"

namespace holdwell {

// Samples beyond full scale are clipped.
Result<std::vector<std::byte>> flac_of(const Recording& recording);

// At most two minutes are taken. Of several channels the first.
Result<Recording> sound_of_flac(std::span<const std::byte> flac);

}  // namespace holdwell
