#pragma once
// Generated /s/ and other hisses with exact edges, for the tests of frication and sibilants.

#include <optional>
#include <vector>

#include "dsp/frication.h"
#include "dsp/sibilant.h"
#include "tests/support/noise.h"
#include "tests/support/random.h"

namespace holdwell::test {

inline constexpr SampleRate kHissRate{48'000.0};

// An /s/ of one mouth: noise above a corner, falling off on top, with a little of all the rest.
struct HissColour {
    Hertz from{4200.0};    // corner of 24 dB an octave; mouths: about 3.2 .. 5.5 kHz
    Hertz to{10'000.0};    // corner of 12 dB an octave
    Decibels flat{-20.0};  // white noise that escapes beside it
};
HissColour some_colour(Random& random);

// RMS 1 over the whole.
std::vector<double> coloured_hiss(const HissColour& colour, Seconds length, std::uint64_t seed);

// RMS in 4 .. 10 kHz, by filters of tests/support (24 dB an octave).
double rms_in_hiss_band(const std::vector<double>& x);

// Raised cosines in amplitude, the zeros at both ends of x.
struct Ramps {
    Seconds rise{30ms};
    Seconds fall{50ms};
};
void shape(std::vector<double>& x, const Ramps& ramps);

struct TrueHiss {
    Seconds begin{};
    Seconds end{};
};

// A room with sounds laid into it.
class HissScene {
public:
    HissScene(Seconds length, std::uint64_t seed);

    // Noise over the whole, of this level in all bands together.
    HissScene& room(NoiseKind kind, Dbfs level);
    // From `at` on, at a level over the room in 4 .. 10 kHz.
    HissScene& hiss(std::vector<double> shaped, Seconds at, Decibels over_room);
    // At an RMS level of its own.
    HissScene& sound(std::vector<double> x, Seconds at, Dbfs level);

    const std::vector<TrueHiss>& truth() const { return truth_; }
    std::vector<float> samples() const;

private:
    std::vector<double> mix_;
    std::vector<double> room_;
    std::vector<TrueHiss> truth_;
    std::uint64_t seed_;
};

// Every hop of the samples through meter and timer, as if no hop held a pitch.
SibilantsHeard time_sibilants(const std::vector<float>& samples, SampleRate rate = kHissRate);

}  // namespace holdwell::test
