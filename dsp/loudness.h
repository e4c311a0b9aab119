#pragma once
// How loud a voice is: against the client's own comfortable voice, and, after a calibration, as
// sound pressure level.
//
// A home microphone is not calibrated: without a reference reading only steps in decibels mean
// anything, and those only on one microphone, rate and gain. The voice band (70 Hz .. 8 kHz) is not
// weighted: A-weighting would take 16 dB off C3 and 6 dB off F4 (IEC 61672-1), so that the same
// soft hold would look 10 dB softer in a low voice.

#include <optional>

#include "dsp/units.h"

namespace holdwell {

// Sound pressure level, re 20 micropascal, with the weighting stated beside it.
struct DbSpl {
    double value{};
    auto operator<=>(const DbSpl&) const = default;
};

struct Metres {
    double value{};
    auto operator<=>(const Metres&) const = default;
};

// Frequency weighting of the sound level meter that was read. C or Z suit a voice; A does not, and
// a reading with it is refused.
enum class Weighting { a, c, z };

// A steady sound, read on a meter and on this microphone at the same moment, both at the same
// distance from the mouth.
struct ReferenceReading {
    DbSpl meter{};
    Weighting weighting{Weighting::c};
    Metres distance{0.3};
    Dbfs level{};  // of this microphone, in the voice band
    bool operator==(const ReferenceReading&) const = default;
};

class SplCalibration {
public:
    // Nothing when the reading cannot be used: A-weighted, 30 .. 130 dB exceeded, distance not
    // within 0.03 .. 3 m, or a level at which the microphone heard nothing (below -90 dBFS).
    static std::optional<SplCalibration> from(const ReferenceReading& reading);

    // At the distance of the reference reading, where the microphone must still be.
    DbSpl level_of(Dbfs level) const { return {level.value + offset_db_}; }
    // What it would be at another distance in the free field: 20 log10(from / to) dB more.
    DbSpl level_at(Dbfs level, Metres distance) const;
    Metres distance() const { return distance_; }
    Weighting weighting() const { return weighting_; }

private:
    SplCalibration(double offset_db, Metres distance, Weighting weighting)
        : offset_db_{offset_db}, distance_{distance}, weighting_{weighting}
    {
    }

    double offset_db_;
    Metres distance_;
    Weighting weighting_;
};

// Free field; true from about 10 cm on (nearer, the mouth is no point).
Decibels distance_gain(Metres from, Metres to);

// Louder positive, e.g. "6 dB softer than your comfortable voice".
constexpr Decibels relative_to_comfortable(Dbfs level, Dbfs comfortable)
{
    return level - comfortable;
}

// All chosen by us: 10 dB are heard as about twice as loud.
struct LoudnessConfig {
    Decibels enter{8.0};  // so far above what was asked
    Decibels leave{5.0};
    Seconds smooth{300ms};  // time constant of the level, in power
    Seconds after{1.0};     // so long above before it is said
};

// "Much louder than asked", with hysteresis, so that the word neither flickers nor nags.
class LoudnessGuard {
public:
    // `asked`: the level asked for, from the sound check.
    LoudnessGuard(Dbfs asked, Seconds hop, const LoudnessConfig& config = {});

    enum class Voice { silent, sounding };
    // One hop; silent hops are left out. True while much louder than asked. [any]
    bool push(Dbfs level, Voice voice) noexcept;
    bool is_much_louder() const noexcept { return much_louder_; }
    void reset() noexcept;

private:
    LoudnessConfig config_;
    Dbfs asked_;
    double pace_;  // share of the way to a new power gone in one hop
    int hops_needed_;
    std::optional<double> power_;
    int hops_above_{0};
    bool much_louder_{false};
};

}  // namespace holdwell
