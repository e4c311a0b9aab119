#pragma once
// What the window knows of how well the microphone can be trusted, and what the therapist teaches
// it: the names of starts, and the level that a meter reads. Plain state, changed by ViewModel
// alone.

#include <deque>
#include <optional>
#include <string>

#include "app/engine/messages.h"
#include "app/practice/records.h"
#include "dsp/loudness.h"
#include "dsp/onset_baseline.h"

namespace holdwell {

// The starts that the therapist has named.
struct StartNaming {
    OnsetBaseline baseline;
    std::optional<Onset> latest;      // the last start heard; absent: none yet
    std::optional<OnsetClass> given;  // her name for it
    std::optional<Client> client;     // whose record keeps them; absent: this session only
    Date today{};                     // of the records; no date until they have answered
    bool is_changed{false};           // since the record was last kept
};

// A level being read on a meter and on the microphone.
struct MeterReading {
    DbSpl meter{70.0};
    Weighting weighting{Weighting::c};
    Metres distance{0.3};
    std::deque<Dbfs> recent;  // the last second, a hop each
    std::string said;         // what became of it
    int focused{0};
};

struct EarState {
    std::optional<std::string> refused;  // why the drill cannot be done on this microphone
    std::optional<MicrophoneProcessing> processing;
    Loudness loudness{Loudness::unknown};  // now
    Seconds unclear{};  // so long has something sounded in which no note is found
    StartNaming starts;
    MeterReading level;
    std::string set_up_change;  // what is different since the last sound check; empty: nothing
};

// One more hop.
EarState after_frame(EarState ear, const FrameHeard& frame, Stage stage);

// Their mean power, when the last second was steady: within 2 dB; nothing when it was not, or is
// not over.
std::optional<Dbfs> steady_level(const MeterReading& reading);

// The rows of the calibration, in order.
enum class LevelRow { meter, weighting, distance, heard };
inline constexpr int kLevelRows = 4;
MeterReading with_step(MeterReading reading, LevelRow row, int by);

}  // namespace holdwell
