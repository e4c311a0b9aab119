#pragma once
// What was heard in one hop: the value that everything after the signal chain works from.

#include <array>
#include <optional>
#include <type_traits>

#include "dsp/units.h"

namespace holdwell {

// State of the sound source.
enum class Phonation {
    silence,    // nothing above the room
    breath,     // aperiodic, mostly below 4 kHz
    frication,  // aperiodic, mostly above 4 kHz: /s/
    voiced,     // periodic, 60 .. 1100 Hz
    fry,        // pulse register: slow irregular pulses
};

constexpr bool is_voice(Phonation p) { return p == Phonation::voiced || p == Phonation::fry; }

struct FrameReading {
    SampleIndex centre{};  // middle of the analysed window (f0), which is also the frame's time
    SampleIndex hop_begin{};  // first sample of the newest hop, to which `hop_level` belongs
    Phonation phonation{Phonation::silence};

    // Engaged together, exactly when phonation is voiced.
    std::optional<Hertz> f0{};
    std::optional<Cents> f0_error{};  // standard error of f0
    std::optional<double> f0_slope{};  // semitones per second, rising positive

    double confidence{0.0};     // 0 .. 1: share of the window's energy that repeats; 0 when not voiced
    Dbfs level{-120.0};         // RMS of the analysed window in the voice band, 70 Hz .. 8 kHz
    Dbfs hop_level{-120.0};     // RMS of the newest hop in the voice band
    Dbfs noise_floor{-120.0};   // the room in the voice band, as known so far
    Dbfs hiss_level{-120.0};    // RMS of the newest hop in 4 .. 11 kHz
    Dbfs hiss_floor{-120.0};    // the room in 4 .. 11 kHz, as known so far
    Dbfs low_level{-120.0};     // RMS of the newest hop in 0.3 .. 3 kHz
    // Mean squares of the newest hop's four quarters in the voice band: the envelope that edges are
    // timed on.
    std::array<float, 4> quarter_power{};
    int clipped_samples{0};     // of the newest hop, in runs of three or more at full scale
};
static_assert(std::is_trivially_copyable_v<FrameReading>);  // crosses between threads

}  // namespace holdwell
