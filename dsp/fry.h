#pragma once
// Pulse register (fry): slow, irregular pulses of the voice, each dying away before the next.
//
// In:    hops of mono samples, -1 .. +1 at any level, in order, of any one length.
// Out:   one FryReading a hop.
// Delay: a run is known with its third pulse, or with its second right after a voice; the reading
//        says where it began.
// State: a fixed size; push allocates nothing. NaN and infinite samples are read as silence.
//
// The envelope (0.5 ms steps, 150 Hz .. 4 kHz) of pulse register has steep peaks 14 .. 60 ms apart
// and falls by more than 9 dB between them. Rates: about 7 .. 78 Hz, mean 36 Hz (H. Hollien and
// J. Michel, J. Speech Hear. Res. 11, 600-604, 1968; from memory); heard as separate pulses below
// about 70 Hz (from memory). A voice as low that is regular is modal, not fry.

#include <array>
#include <optional>
#include <span>

#include "dsp/analysis_config.h"
#include "dsp/frame_reading.h"

namespace holdwell {

struct FryReading {
    bool fry{false};          // a run of irregular slow pulses is under way
    // Engaged together, when fry.
    std::optional<SampleIndex> since{};       // first pulse of the run
    std::optional<SampleIndex> last_pulse{};  // newest pulse: an ended run ends here
    std::optional<Hertz> rate{};              // of its latest pulses, 17 .. 75 Hz
    double irregularity{0.0};  // mean difference of successive intervals over their mean; 0 modal
};

}  // namespace holdwell
