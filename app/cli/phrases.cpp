#include "app/cli/phrases.h"

#include <fmt/format.h>

#include <cstdlib>

namespace holdwell {

std::string octave_in_words(int octaves)
{
    const int count = std::abs(octaves);
    return fmt::format("the right note, {} {}",
                       count == 1 ? "one octave" : fmt::format("{} octaves", count),
                       octaves > 0 ? "higher" : "lower");
}

}  // namespace holdwell
