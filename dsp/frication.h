#pragma once
// Hiss and breath: the level above 4 kHz and the level below 3 kHz, each against the room.
//
// In:    hops of hop_length(config) mono samples, -1 .. +1 at any level, in order.
// Out:   one FricationReading a hop.
// Delay: none but that of the filters (0.3 ms); `smooth` levels lag by 10 ms.
// State: a fixed size; push allocates nothing. NaN and infinite samples are read as silence.
//
// Why these bands: the spectrum of /s/ peaks near 6.8 kHz (A. Jongman, R. Wayland and S. Wong,
// J. Acoust. Soc. Am. 108, 1252-1263, 2000) and is weak below 3 kHz; breath has most of its
// energy below 4 kHz; white hiss, as from a tap, reads 4 dB higher in 4 .. 11 kHz than in
// 0.3 .. 3 kHz, simply because the band is wider (10 log10(7.0 / 2.7)).

#include <array>
#include <cstddef>
#include <span>

#include "dsp/analysis_config.h"
#include "dsp/biquad.h"
#include "dsp/frame_reading.h"
#include "dsp/room_floor.h"
#include "dsp/units.h"

namespace holdwell {

inline constexpr Hertz kHissFrom{4000.0};
inline constexpr Hertz kHissTo{11'000.0};  // or 0.45 of the rate, if that is lower
inline constexpr Hertz kLowFrom{300.0};
inline constexpr Hertz kLowTo{3000.0};
inline constexpr Hertz kLowestTo{1000.0};  // 12 dB an octave: for a rule only

// The lowest rate at which an /s/ can be timed: below it the microphone's link cuts /s/ off.
inline constexpr SampleRate kLowestSibilantRate{44'100.0};
constexpr bool hears_sibilants(SampleRate rate) { return rate >= kLowestSibilantRate; }

struct FricationReading {
    // The hop is cut into so many slices, 2.5 ms each at a hop of 10 ms, to place edges.
    static constexpr std::size_t kSlices = 4;

    SampleIndex begin{};                // first sample of the hop
    Dbfs hiss{kDigitalSilence};         // RMS of the hop in 4 .. 11 kHz
    Dbfs low{kDigitalSilence};          // RMS of the hop in 0.3 .. 3 kHz
    Dbfs hiss_smooth{kDigitalSilence};  // the same over the last 30 ms
    Dbfs low_smooth{kDigitalSilence};
    Dbfs lowest_smooth{kDigitalSilence};  // in 0.3 .. 1 kHz, last 30 ms
    Dbfs hiss_floor{kDigitalSilence};     // the room in each band, as known so far
    Dbfs low_floor{kDigitalSilence};
    Dbfs lowest_floor{kDigitalSilence};
    std::array<double, kSlices> hiss_slices{};  // mean squares in 4 .. 11 kHz
};

// The colour of a sound: by how much its hiss exceeds its lower bands, the room taken off all
// three; -60 .. +60 dB. White hiss, as from a tap: +4 and +9, the ratios of the bands' widths.
struct Brightness {
    Decibels over_low;     // 0.3 .. 3 kHz
    Decibels over_lowest;  // 0.3 .. 1 kHz; at least, where the room hides that band
};

// A colour is bright enough when the hiss is `clearly` above all below 3 kHz; or, as of a flat /s/
// (a lisp, a dull microphone), somewhat above that and far above what is below 1 kHz, where an /s/
// has next to nothing and breath has most of its energy.
struct BrightnessRule {
    Decibels clearly;
    Brightness flat;
};
constexpr bool holds(const BrightnessRule& rule, const Brightness& b)
{
    return b.over_low >= rule.clearly ||
           (b.over_low >= rule.flat.over_low && b.over_lowest >= rule.flat.over_lowest);
}

// How a sound without pitch is named. All chosen by us.
struct FricationRule {
    Decibels over_room{6.0};  // a band sounds when it is so far above its room
    BrightnessRule bright{{8.0}, {{2.0}, {12.0}}};
    // A lower band so near to its room counts as room alone: 30 ms of noise vary by 0.5 dB in
    // 0.3 .. 3 kHz, by 0.9 dB in 0.3 .. 1 kHz.
    Decibels low_in_doubt{2.0};
    Decibels lowest_in_doubt{3.0};
};

Brightness brightness_of(const FricationReading& reading, const FricationRule& rule = {});

// silence, breath or frication, for a sound that has no pitch: "Neither band is 6 dB over the room:
// silence. The hiss is, and it is 8 dB above all that sounds below 3 kHz, or 2 dB above that and
// 12 dB above what sounds below 1 kHz: frication. Else breath."
Phonation aperiodic_kind(const FricationReading& reading, const FricationRule& rule = {});

class FricationMeter {
public:
    explicit FricationMeter(const AnalysisConfig& config);

    // [any]
    FricationReading push(std::span<const float> hop) noexcept;
    // The hop just pushed held a voice, so it told nothing about the room: the floors stay.
    // Without this call a steady sound of breath-like colour becomes part of the room after 5 s,
    // an /s/ after 60 s. [any]
    void heard_voice() noexcept { sounding_hops_ = 0; }
    // So many samples were lost: time goes on, the room stays as it was. [any]
    void skip(SampleCount lost) noexcept { position_ = position_ + lost; }
    void reset() noexcept;

private:
    struct BandPowers {
        std::array<double, FricationReading::kSlices> hiss{};
        double low{0.0};
        double lowest{0.0};
    };
    BandPowers filter(std::span<const float> hop) noexcept;
    void learn_room(FricationReading& reading) noexcept;

    static constexpr std::size_t kSmoothHops = 3;
    struct Smoothed {
        std::array<double, kSmoothHops> last{};
        double push(double mean_square, std::size_t slot) noexcept;
    };

    bool has_hiss_band_;
    // The first of each pair belongs to the hiss, the second to the low band: its high-pass and
    // the two halves of its low-pass.
    std::array<BiquadPair, 3> hiss_and_low_;
    Biquad lowest_low_pass_;
    Smoothed hiss_, low_, lowest_;
    RoomFloor hiss_floor_, low_floor_, lowest_floor_;
    SampleIndex position_{};
    std::size_t hops_{0};
    int sounding_hops_{0};
    int breath_patience_, hiss_patience_;  // hops
    bool only_zeros_so_far_{true};
};

}  // namespace holdwell
