#pragma once
// Phrases that more than one command says.

#include <string>

namespace holdwell {

// "the right note, one octave lower"; octaves: not 0, higher positive.
std::string octave_in_words(int octaves);

// For a terminal: control characters and bytes that are no UTF-8 as question marks.
std::string printable(const std::string& text);

}  // namespace holdwell
