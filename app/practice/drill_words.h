#pragma once
// Names of drills, and lengths in words: the same on every screen, in the terminal and on paper.

#include <string>

#include "app/practice/drill.h"

namespace holdwell {

// "Warm-up hold", "Rising glide", "/s/ hold".
std::string name_of(DrillKind kind);
bool has_target(DrillKind kind);  // the kind asks for one note
bool is_glide(DrillKind kind);
bool is_sibilant(DrillKind kind);  // /s/ or /z/

Seconds rounded_to_tenth(Seconds s);
// "14.2": seconds to the nearest tenth.
std::string tenths(Seconds s);
// "14.2 seconds", "1 second".
std::string seconds_in_words(Seconds s);
// "18 s", "7.5 s".
std::string short_seconds(Seconds s);

// "no", "one", "two" ... "twelve", then digits.
std::string count_in_words(int n);
// "first", "second" ... "twelfth", then "13th" and so on.
std::string ordinal_in_words(int n);

}  // namespace holdwell
