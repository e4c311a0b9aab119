#pragma once
// The last minutes of a stream, kept in memory so that a trial's sound can be cut out of it once
// it is known where it began and ended. Only what a client has consented to is ever cut out.

#include <vector>

#include "app/engine/audio_block.h"
#include "dsp/units.h"

namespace holdwell {

struct SoundClip {
    std::vector<float> samples;  // mono
    SampleRate rate{};
};

class SoundKeeper {
public:
    explicit SoundKeeper(Seconds longest) : longest_{longest} {}

    // A new stream: indexes begin at 0 again.
    void begin(SampleRate rate);
    // Samples lost before the block are silence.
    void push(const AudioBlock& block);
    // What is kept of that part; empty when nothing is.
    SoundClip between(SampleIndex begin, SampleIndex end) const;

private:
    Seconds longest_;
    SampleRate rate_{48'000.0};
    SampleIndex begin_{};         // of the first sample kept
    std::vector<float> samples_;  // up to twice the longest
};

}  // namespace holdwell
