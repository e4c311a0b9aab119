#pragma once
// Phrases that more than one command says.

#include <string>

namespace holdwell {

// "the right note, one octave lower"; octaves: not 0, higher positive.
std::string octave_in_words(int octaves);

// As a recording that sounds is called: its name without the folder.
std::string name_of_recording(const std::string& path);

// For a terminal: control characters and bytes that are no UTF-8 as question marks.
std::string printable(const std::string& text);

}  // namespace holdwell
