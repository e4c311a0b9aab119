#pragma once
// Whether a stream is well, from what arrives alone: drivers and sound servers do not say so.
//
// A sound server that is suspended or frozen keeps the stream "active" and sends nothing; a muted
// microphone sends zeros at the full rate; samples dropped inside the server are reported by no
// flag. Pure: the caller brings the time (a steady clock) and the counts.

#include <chrono>
#include <optional>

#include "dsp/units.h"

namespace holdwell {

using SteadyTime = std::chrono::time_point<std::chrono::steady_clock, Seconds>;

enum class StreamState {
    waiting,  // opened, nothing has come yet
    flowing,
    silent,  // nothing but exact zeros: muted, or no sound source behind it
    dead,    // ended, or nothing comes any more: to be closed
};

struct StreamCounts {
    SampleCount delivered{};
    SampleCount zeros{};  // at the end of those
    bool ended{false};
};

class StreamHealth {
public:
    StreamHealth(SampleRate rate, SteadyTime opened) : rate_{rate}, last_arrival_{opened} {}
    StreamState step(SteadyTime now, const StreamCounts& counts);

private:
    // Together with the caller's poll both stay within the 2 s in which a loss is to be noticed.
    static constexpr Seconds kLongestStall{1.0};    // chosen by us; a loaded machine stalls 0.1 s
    static constexpr Seconds kMutedAfter{1.5};      // chosen by us; rooms are never exactly zero
    static constexpr Seconds kLongestOpening{4.0};  // an idle PulseAudio sink took 2.0 s to begin

    SampleRate rate_;
    SteadyTime last_arrival_;
    SampleCount seen_{};
};

// Samples that never arrived, from how far what arrived lags behind the clock.
//
// The lag jumps about with the blocks and creeps with the device's own clock (100 ppm and less);
// samples lost for good raise it to stay. So the smallest lag of each stretch of half a second of
// received sound is compared with that of the stretch before: a rise of more than kLeastLoss is a
// loss, known at most a second after it happened. A backlog that is delivered late is none.
class DriftCheck {
public:
    explicit DriftCheck(SampleRate rate) : rate_{rate} {}

    // Samples found missing at this moment; 0 nearly always. `delivered` is all since the start.
    SampleCount step(SteadyTime now, SampleCount delivered);

private:
    static constexpr Seconds kStretch{0.5};
    static constexpr Seconds kLeastLoss{0.05};  // five blocks: above the jitter of arrival

    SampleRate rate_;
    std::optional<SteadyTime> begin_;  // of the stream, as seen from here
    std::optional<Seconds> usual_;     // smallest lag of the stretch before
    std::optional<Seconds> smallest_;  // of this stretch
    SampleCount stretch_begin_{};
};

}  // namespace holdwell
