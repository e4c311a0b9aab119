#pragma once
// How loud the trials are beside the client's own comfortable voice, once that is known.

#include <optional>

#include "app/engine/messages.h"
#include "dsp/loudness.h"

namespace holdwell {

class VoiceLoudness {
public:
    explicit VoiceLoudness(Seconds hop) : hop_{hop} {}

    // Absent: nothing is known, and nothing is judged.
    void know_comfortable(std::optional<Dbfs> level);
    void begin_trial();
    // One hop of the trial under way.
    Loudness push(const FrameReading& reading);
    // Of the trial so far: much_louder when it was so at any time.
    Loudness of_trial() const { return trial_; }
    std::optional<Decibels> over_comfortable(Dbfs level) const;

private:
    Seconds hop_;
    std::optional<Dbfs> comfortable_;
    std::optional<LoudnessGuard> guard_;
    Loudness trial_{Loudness::unknown};
};

}  // namespace holdwell
