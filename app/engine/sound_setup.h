#pragma once
// The set-up that levels belong to: microphone, rate, input level, calibration. Levels from two
// set-ups cannot be compared, so a trend is broken where it changes.

#include <optional>
#include <string>

#include "dsp/loudness.h"
#include "dsp/units.h"

namespace holdwell {

// A reading of a sound level meter, and the microphone and rate it belongs to.
struct SplReference {
    ReferenceReading reading;
    std::string microphone;
    SampleRate rate{};
    bool operator==(const SplReference&) const = default;
};

// What a sound check found, for the next one to be compared with.
struct CheckedSetup {
    std::string microphone;
    SampleRate rate{};
    Dbfs room{kDigitalSilence};
    Dbfs voice{kDigitalSilence};
    int input_level{1};  // 1 .. : raised whenever the gain seems to have been changed
    bool operator==(const CheckedSetup&) const = default;
};

// The same microphone at the same rate.
bool is_same_device(const CheckedSetup& a, const CheckedSetup& b);

// By how much room and voice have both moved the same way since then, as when the input level was
// changed: by 6 dB or more, and the one no more than 3 dB farther than the other. Absent when they
// have not, or when it is another microphone.
std::optional<Decibels> gain_change(const CheckedSetup& before, const CheckedSetup& now);

// `now` with its input level counted on from what was checked before.
CheckedSetup counted_on(const std::optional<CheckedSetup>& before, CheckedSetup now);

// Nothing when the reading cannot be used, or belongs to another microphone or rate.
std::optional<SplCalibration> calibration_for(const std::optional<SplReference>& reference,
                                              const std::string& microphone, SampleRate rate);

// "Desk microphone, 48000 Hz, input level 2, 74 dB C at 30 cm": for a person to read, the same for
// the same set-up, without serial numbers (words with four digits or more) or the places that a
// system gives devices ("(hw:1,0)"), at most 120 letters.
std::string setup_fingerprint(const CheckedSetup& setup,
                              const std::optional<SplReference>& reference);

}  // namespace holdwell
