#pragma once
// How much sound a WAV or AIFF file says it holds, against how much is there: a copy that stopped
// half way keeps its header, and a hold measured in it would come out short without a word.
//
// Chunk layout: Multimedia Programming Interface and Data Specifications 1.0 (IBM and Microsoft,
// 1991) for RIFF; Audio Interchange File Format 1.3 (1989) for AIFF.

#include <cstdint>
#include <optional>
#include <string>

namespace holdwell {

struct SoundBytes {
    std::uint64_t promised{};  // by the header of the sound chunk
    std::uint64_t
        present{};  // from the start of the sound to the end of the file, at most promised
};

// Nothing for other kinds of file, for files without a sound chunk, and for a length that the
// writer left open (0 or beyond 2^31 - 2^20, as programs do that write to a pipe).
std::optional<SoundBytes> sound_bytes_of(const std::string& path);

}  // namespace holdwell
