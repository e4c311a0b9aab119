#pragma once
// Words of the command line turned into quantities; each failure is one sentence that names the
// option, what was written and what may be.

#include <string>
#include <string_view>

#include "app/base/result.h"
#include "dsp/units.h"

namespace holdwell {

// What an option that takes a number accepts.
struct NumberRange {
    std::string_view option;  // as typed, e.g. "--band"
    double lowest;
    double highest;
    std::string_view unit;     // as a person says it: "cents"
    std::string_view example;  // a sensible value
};

Result<double> parse_number(const std::string& text, const NumberRange& range);
Result<int> parse_whole_number(const std::string& text, const NumberRange& range);

// A note name, C2 .. C6, or a frequency in hertz, 60 .. 1100.
Result<Hertz> parse_pitch(const std::string& text, std::string_view option);

// "--band wide", or "--band \"\"" where nothing was typed.
std::string as_typed(std::string_view option, const std::string& text);

// What is wrong with a value that may not be empty. Empty when nothing is.
std::string no_nothing(const std::string& value);

// What is wrong with it as the name of a folder: nothing, or another option, where the name was
// left out. Empty when nothing is wrong.
std::string no_option(const std::string& value);

}  // namespace holdwell
