#pragma once
// The sentences of the window: plain, kind and honest; never a grade, never a diagnosis.

#include <optional>
#include <string>

#include "app/engine/ear_words.h"
#include "app/engine/messages.h"
#include "app/practice/drill.h"
#include "app/practice/drill_words.h"
#include "dsp/hold.h"

namespace holdwell {

// "-24.0", with a true minus sign; "-64".
std::string signed_number(double value);
std::string signed_whole(double value);
// "+12 cents", "-3 cents", "0 cents".
std::string signed_cents(Cents c);

// "first of two, as long as the breath is easy"; `done` trials of this drill so far.
std::string aim_of(const Drill& drill, int done);

std::string line_when_ready(const Drill& drill);
std::string line_when_paused();
std::string line_when_playing(const Drill& drill);
// After so long: the room, or a voice, is waited out.
std::string line_when_settling(Seconds so_far);

// How the voice lies against the band while it sounds.
enum class Lie { unknown, near, high, low, other_octave };
struct Sounding {
    DrillKind kind{DrillKind::warm_up_hold};
    Lie lie{Lie::unknown};
    int octaves_off{0};
    bool past_goal{false};
    Loudness loudness{Loudness::unknown};
};
std::string line_when_sounding(const Sounding& now);

// Where a hold stands among those before it.
enum class Rank { first, longest, other };
struct FinishedHold {
    Drill drill;
    Hold hold;
    Seconds length{};  // onset to offset
    Rank rank{Rank::other};
    std::optional<Decibels> over_comfortable{};
    Loudness loudness{Loudness::unknown};
};
std::string line_when_finished(const FinishedHold& finished);
std::string line_when_glided(const Glide& glide);
std::string line_when_hissed(Seconds length, Rank rank);

// "easy start"; empty when it cannot be told.
std::string onset_words(const Onset& onset);
// "right note, one octave up"; empty when it is the octave asked for.
std::string octave_words(int octaves_off);
std::string gap_words(int interruptions);
std::string end_words(HoldEnd end);

std::string room_words(RoomVerdict verdict);
// "17 samples (0.4 ms)": what the device lost.
std::string lost_words(SampleCount lost, SampleRate rate);

}  // namespace holdwell
