#pragma once
// A described voice, and its rendering: samples together with the truth about them.
//
// Two sources. `pulses`: LF glottal pulses at four times the sample rate, with cycle-by-cycle
// perturbation, decimated and sent through formants; what a voice is like. `harmonics`: a sum of
// harmonics of amplitude formant(k f0) / k^2 with fixed random phases, free of aliasing; for what
// is to be exact to a thousandth of a cent.
//
// Jitter and shimmer are `local`, in percent, of white perturbations: the mean absolute difference
// of neighbouring periods (peak amplitudes) over their mean. Normal deviates of sd s differ by
// 2 s / sqrt(pi) on average, so s = local * sqrt(pi) / 2.

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "dsp/units.h"
#include "tests/support/filters.h"
#include "tests/support/phase_track.h"

namespace holdwell::test {

// f0 at a time since the beginning of the voice.
using Contour = std::function<Hertz(Seconds)>;

Contour steady(Hertz f0);
// Even in log frequency, from first to last within `length`.
Contour glide(Hertz first, Hertz last, Seconds length);
// Low, high, low: a raised cosine in log frequency.
Contour swell(Hertz low, Hertz high, Seconds length);
struct Wave {
    Hertz rate;   // e.g. 5.5
    Cents depth;  // to each side
};
Contour vibrato(Hertz f0, Wave wave);
// Slow random wander: a sum of sines between 0.1 and 1.5 Hz, of standard deviation `sd`.
Contour drift(Hertz f0, Cents sd, std::uint64_t seed);
// The first contour until `at`, then the second, without any transition.
Contour joined(Contour first, Seconds at, Contour second);

enum class Vowel { a, i, u, o };
enum class Speaker { low, high };  // formants of a longer and a shorter vocal tract
using Tract = std::array<Formant, 5>;
// Frequencies from memory of the classical vowel tables, bandwidths from memory of table II in
// Klatt 1980 (see filters.h).
Tract tract_of(Vowel vowel, Speaker speaker);

enum class Source { pulses, harmonics };

// Every second cycle differs from its neighbours; shares of the mean, +- to each side.
struct Diplophonia {
    double amplitude{0.0};
    double period{0.0};
};

// The voice stops and begins again, with ramps of 5 ms inside the gap's edges.
struct Gap {
    Seconds at;  // since the beginning of the voice
    Seconds length;
};

struct Voice {
    Contour f0 = steady(Hertz{220.0});
    Tract tract = tract_of(Vowel::a, Speaker::high);
    Source source = Source::pulses;
    double r_d = 1.0;  // glottal shape, 0.3 pressed .. 2.7 breathy
    double jitter_percent = 0.0;
    double shimmer_percent = 0.0;
    std::optional<Decibels> hnr{};  // aspiration through the same tract; absent: none at all
    Diplophonia diplophonia{};
    Dbfs level{-23.0};     // RMS where the voice is at full strength
    Seconds attack{0.02};  // raised cosine in amplitude
    Seconds decay{0.05};
    std::function<Decibels(Seconds)> loudness{};  // added to `level`; absent: even
    std::vector<Gap> gaps{};
};

struct RenderedVoice {
    std::vector<double> samples;
    PhaseTrack phase;
};

// `seed` decides all that is random in it.
RenderedVoice render(const Voice& voice, Seconds length, SampleRate rate, std::uint64_t seed);

// When a raised cosine of this length passes 20 dB below its top, measured from its silent end.
Seconds audible_after(Seconds ramp);

}  // namespace holdwell::test
