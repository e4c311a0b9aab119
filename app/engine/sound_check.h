#pragma once
// The sound check: two seconds of the room, then a second and a half of a comfortable voice.
//
// Verdict by the voice's level over the room: 20 dB and more is quiet enough for everything, 10 to
// 20 dB for time and pitch, less is too noisy (the margins: R. R. Patel et al., Am. J. Speech Lang.
// Pathol. 27, 887-905, 2018, from memory: noise at least 10 dB below the softest phonation).

#include <optional>
#include <vector>

#include "app/engine/messages.h"
#include "dsp/frame_reading.h"

namespace holdwell {

class SoundCheck {
public:
    // `a_weighted`: of about the same hop; it is kept of the room only, never of the voice.
    void push(const FrameReading& reading, std::optional<Dbfs> a_weighted = {});
    bool knows_room() const;
    // Once the voice has been heard for long enough.
    std::optional<SoundCheckFinished> result() const;

private:
    std::vector<double> room_;  // hop levels, dBFS
    std::vector<double> a_weighted_room_;
    std::vector<double> voice_;
    int clipped_{0};
};

}  // namespace holdwell
