#pragma once
// Results of listening, as values: a hold, an /s/ hold, a glide, and what was noticed in them.

#include <optional>
#include <string>
#include <vector>

#include "dsp/units.h"

namespace holdwell {

// A gap inside a hold, shorter than the plan's limit.
struct Interruption {
    SampleIndex at{};
    Seconds duration{};
};

enum class OnsetClass { easy, hard, breathy, unsure };

// What a beginning was like (dsp/onset.h says how each is measured).
struct OnsetFeatures {
    Seconds rise{};
    std::optional<double> rise_cycles{};
    Seconds air_lead{};
    std::optional<Decibels> air_level{};  // over the room; absent without air
    Decibels overshoot{};
    bool irregular{false};
    Decibels snr{};  // of the settled voice, over the room in the voice band
};

// How a hold began: the measured features, and the name that one rule gives them.
struct Onset {
    OnsetClass named{OnsetClass::unsure};
    std::optional<Seconds> rise;        // 10 to 90 % of a short RMS envelope
    std::optional<Seconds> air_lead;    // aperiodic air before the voice; 0 when there is none
    std::string reason;                 // one sentence
    std::optional<double> rise_cycles;  // the rise, in periods of the voice
    std::optional<Decibels> overshoot;  // loudest of the first 30 ms over the level after them
    std::optional<Decibels> air_level;  // of that air, over the room
    bool irregular{false};              // the first cycles are not those of the voice that follows
    // All of them together, for a therapist's label; absent where they are not to be trusted.
    std::optional<OnsetFeatures> features{};
};

// Therapist's level only; absent when the signal does not allow it.
struct Quality {
    double jitter_percent{};   // local
    double shimmer_percent{};  // local
    Decibels hnr{};            // harmonics to noise
    Decibels cpps{};           // smoothed cepstral peak prominence
};

// Why a hold ended.
enum class HoldEnd { voice_stopped, fry, faded, stream_ended };

// Why a hold that was timed cannot be judged as a voice's.
enum class Doubt {
    several_sounds,  // another voice, or music, sounded along
    machine,         // steadier than any throat: a dial tone, a reference tone, an instrument
    noisy_room,      // less than 10 dB over the room
    overloaded,      // the microphone clipped in a tenth of it or more
};

struct Hold {
    SampleIndex onset{};
    SampleIndex offset{};
    HoldEnd ended_by{HoldEnd::voice_stopped};
    std::optional<Hertz> f0_median;  // absent when never voiced
    std::optional<Cents> f0_sd;
    // Against the target; absent without one.
    std::optional<Cents> deviation;  // of the median, sharp positive
    std::optional<Seconds> in_band;  // part of the hold spent inside the band
    int octaves_off{0};              // the right note, so many octaves above (+) or below (-)
    Dbfs level{-120.0};              // median
    Decibels snr{};                  // median level over the room
    std::vector<Interruption> interruptions;
    Onset start;
    Seconds fry{};  // pulse register, not counted in the hold
    std::optional<Quality> quality;
    bool has_gap{false};           // samples were lost inside it: kept, not scored as a best
    std::optional<Doubt> doubt{};  // the gravest one
    // Steadier than any throat, also where a graver doubt hides that.
    bool like_a_machine{false};
};

// May be the longest yet: heard whole, and of one voice alone.
inline bool may_be_a_best(const Hold& hold)
{
    return !hold.has_gap && hold.doubt != Doubt::several_sounds && !hold.like_a_machine;
}

// One unvoiced /s/, or a voiced /z/.
struct Sibilant {
    SampleIndex onset{};
    SampleIndex offset{};
    Dbfs level{-120.0};
    // It faded smoothly into the room soon after it began, as a hiss does when the system takes
    // it for noise and suppresses it.
    bool fading_suspected{false};
    bool has_gap{false};  // samples were lost where it ends: it may have gone on
};

enum class BreakKind { jump, gap };

struct PitchBreak {
    SampleIndex at{};
    BreakKind kind{BreakKind::jump};
    std::optional<Semitones> size;  // of a jump, upwards positive
    std::optional<Seconds> gap;     // of a gap
};

enum class GlideDirection { up, down };

struct Glide {
    SampleIndex onset{};
    SampleIndex offset{};
    GlideDirection direction{GlideDirection::up};
    std::optional<Hertz> lowest;  // sustained for at least 100 ms, fry left out
    std::optional<Hertz> highest;
    std::vector<PitchBreak> breaks;
    Seconds fry{};
    double smoothness{0.0};  // 0 .. 1: share of frames that move in the glide's direction
    bool has_gap{false};     // samples were lost inside it: what looks like a break may be none
};

}  // namespace holdwell
