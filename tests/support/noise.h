#pragma once
// Everything that is not the client's voice: the room, machines, other people, breath and hiss.
//
// Each returns `length` of RMS 1; the caller sets the level. `seed` decides all that is random.

#include <cstdint>
#include <vector>

#include "dsp/units.h"

namespace holdwell::test {

enum class NoiseKind {
    white,
    pink,    // -3 dB an octave
    room,    // most energy below 300 Hz, with a white floor 25 dB lower
    fan,     // air stream below 500 Hz, swelling 10 % at 24 Hz; no tone
    hum_50,  // mains: harmonics 1 .. 24 of 50 Hz, 1/k, random phases
    hum_60,
    babble,    // eight voices with random melodies and syllables
    breath,    // turbulent air through an open vocal tract, mostly below 4 kHz
    sibilant,  // /s/: noise of 4 to 9 kHz, peak about 6.5 kHz
};

std::vector<double> noise(NoiseKind kind, Seconds length, SampleRate rate, std::uint64_t seed);

// Pulse register: damped pulses through the tract, at random distances.
struct Fry {
    Hertz slowest{25.0};
    Hertz fastest{60.0};
};
std::vector<double> fry(Fry fry, Seconds length, SampleRate rate, std::uint64_t seed);

// A single short blow: a click, a key, a door. Decays by 60 dB within `decay`, energy about
// `centre`.
struct Thump {
    Hertz centre{200.0};
    Seconds decay{0.3};
};
std::vector<double> thump(Thump thump, Seconds length, SampleRate rate, std::uint64_t seed);

// Adds the tail of a room: exponentially decaying velvet noise (3000 random signs a second).
// H. Jarvelainen and M. Karjalainen, "Reverberation modeling using velvet noise", 30th AES
// conference, 2007. `direct_to_reverberant` is the ratio of energies.
struct Room {
    Seconds rt60{0.4};
    Decibels direct_to_reverberant{0.0};
};
std::vector<double> in_room(const std::vector<double>& dry, Room room, SampleRate rate,
                            std::uint64_t seed);

}  // namespace holdwell::test
