#include "dsp/tuning.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cctype>

namespace holdwell {

namespace {

constexpr std::string_view kSharpSign = "\u266f";
constexpr std::string_view kFlatSign = "\u266d";

// Semitones above C of a letter A .. G; nothing for any other.
std::optional<int> semitones_above_c(char letter)
{
    constexpr std::array<int, 7> kFromA{9, 11, 0, 2, 4, 5, 7};
    const int i = std::toupper(static_cast<unsigned char>(letter)) - 'A';
    if (i < 0 || i >= static_cast<int>(kFromA.size())) return std::nullopt;
    return kFromA[static_cast<std::size_t>(i)];
}

// Takes a sharp or flat off the front of `rest`; the change in semitones.
int take_accidental(std::string_view& rest)
{
    struct Sign {
        std::string_view text;
        int semitones;
    };
    constexpr std::array<Sign, 4> kSigns{
        Sign{"#", 1}, Sign{kSharpSign, 1}, Sign{"b", -1}, Sign{kFlatSign, -1}};
    for (const Sign& sign : kSigns) {
        if (!rest.starts_with(sign.text)) continue;
        rest.remove_prefix(sign.text.size());
        return sign.semitones;
    }
    return 0;
}

}  // namespace

Note nearest_note(Hertz f0)
{
    const double midi = 69.0 + 12.0 * std::log2(f0.value / 440.0);
    return {static_cast<int>(std::lround(std::clamp(midi, 0.0, 127.0)))};
}

std::string name_of(Note note, Spelling spelling)
{
    constexpr std::array<std::string_view, 12> kLetters{"C", "C#", "D", "D#", "E", "F",
                                                        "F#", "G", "G#", "A", "A#", "B"};
    const std::string_view letter = kLetters[static_cast<std::size_t>(note.midi % 12)];
    std::string name{letter.substr(0, 1)};
    if (letter.size() > 1) name += spelling == Spelling::display ? kSharpSign : "#";
    return name + std::to_string(note.midi / 12 - 1);
}

std::optional<Note> parse_note(std::string_view text)
{
    if (text.empty()) return std::nullopt;
    const std::optional<int> letter = semitones_above_c(text.front());
    text.remove_prefix(1);
    if (!letter) return std::nullopt;
    const int accidental = take_accidental(text);
    int octave = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), octave);
    if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    if (octave < -1 || octave > 9) return std::nullopt;
    const int midi = 12 * (octave + 1) + *letter + accidental;
    if (midi < 0 || midi > 127) return std::nullopt;
    return Note{midi};
}

}  // namespace holdwell
