#include "app/cli/phrases.h"

#include <fmt/format.h>

#include <cstddef>
#include <cstdlib>
#include <filesystem>

#include "app/practice/utf8.h"

namespace holdwell {

std::string octave_in_words(int octaves)
{
    const int count = std::abs(octaves);
    return fmt::format("the right note, {} {}",
                       count == 1 ? "one octave" : fmt::format("{} octaves", count),
                       octaves > 0 ? "higher" : "lower");
}

std::string name_of_recording(const std::string& path)
{
    return std::filesystem::path{path}.filename().string();
}

std::string printable(const std::string& text)
{
    std::string shown;
    for (std::size_t i = 0; i < text.size();) {
        // A letter has one to four bytes.
        std::size_t length = 1;
        while (length < 4 && letters_in(text.substr(i, length)) != 1) ++length;
        const std::string letter = text.substr(i, length);
        const bool is_letter = letters_in(letter) == 1 && !has_control(letter);
        shown += is_letter ? letter : "?";
        i += letters_in(letter) == 1 ? length : 1;
    }
    return shown;
}

}  // namespace holdwell
