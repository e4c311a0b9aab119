#pragma once
// What kind of file it is, by its first bytes, before a library guesses: some of the formats that
// libraries know are not ours, and are read with remarks on the terminal.

#include <string>

namespace holdwell {

enum class FileKind {
    listed,       // WAV (RIFF, RIFX, RF64, Wave64), FLAC, OGG or AIFF
    mpeg_in_wav,  // WAV around MPEG audio
    other,        // anything else, and what is too short to tell
};

// Of the file's first bytes; an ID3 tag in front of them is skipped (ID3 tag version 2.4.0,
// section 3.1). `other` for a file that cannot be opened.
FileKind kind_of_file(const std::string& path);

}  // namespace holdwell
