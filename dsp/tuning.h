#pragma once
// Note names and frequencies in twelve-tone equal temperament, A4 = 440 Hz.
//
// Tuning frequency: ISO 16:1975. A note is a MIDI number: C4 = 60, A4 = 69.

#include <optional>
#include <string>
#include <string_view>

#include "dsp/units.h"

namespace holdwell {

struct Note {
    int midi{};  // 0 .. 127; C4 = 60
    auto operator<=>(const Note&) const = default;
};

inline constexpr Note kF3{53};
inline constexpr Note kF4{65};

constexpr Hertz frequency_of(Note note)
{
    // 2^(n/12) for n = 0 .. 11; std::exp2 is not constexpr in C++20.
    constexpr double kRatio[12] = {1.0000000000000000, 1.0594630943592953, 1.1224620483093730,
                                   1.1892071150027210, 1.2599210498948732, 1.3348398541700344,
                                   1.4142135623730951, 1.4983070768766815, 1.5874010519681994,
                                   1.6817928305074290, 1.7817974362806785, 1.8877486253633868};
    int steps = note.midi - 69;
    double f = 440.0;
    for (; steps < 0; steps += 12) f /= 2.0;
    for (; steps >= 12; steps -= 12) f *= 2.0;
    return {f * kRatio[steps]};
}
static_assert(frequency_of(Note{69}) == Hertz{440.0});
static_assert(frequency_of(Note{57}) == Hertz{220.0});

// The nearest note; f0 must be positive. Clamped to 0 .. 127.
Note nearest_note(Hertz f0);

// "F4", "C#4" as one writes it on a keyboard; Spelling::display uses the music sign (C♯4, UTF-8).
enum class Spelling { plain, display };
std::string name_of(Note note, Spelling spelling = Spelling::plain);

// "F4", "f4", "Bb3", "C#4", "B♭3", "C♯4"; octaves -1 .. 9. Nothing for any other text.
std::optional<Note> parse_note(std::string_view text);

}  // namespace holdwell
