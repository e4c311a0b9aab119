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
    bool has_gap{false};  // samples were lost in it, or may have been: silence is in their place
};

class SoundKeeper {
public:
    explicit SoundKeeper(Seconds longest) : longest_{longest} {}

    // A new stream: indexes begin at 0 again.
    void begin(SampleRate rate);
    // Samples lost before the block are silence, and known as a gap.
    void push(const AudioBlock& block);
    // What is kept of that part; empty when nothing is.
    SoundClip between(SampleIndex begin, SampleIndex end) const;

private:
    struct Gap {  // within it samples were lost
        SampleIndex begin;
        SampleIndex end;
    };
    void restart(SampleIndex begin);
    void leave_out(const AudioBlock& before_it);
    std::size_t most() const { return static_cast<std::size_t>(samples_in(longest_, rate_).value); }
    SampleIndex end() const;  // of the last sample kept, exclusive

    Seconds longest_;
    SampleRate rate_{48'000.0};
    SampleIndex begin_{};         // of the first sample kept
    std::vector<float> samples_;  // up to twice the longest
    std::vector<Gap> gaps_;       // since shortly before `begin_`
};

}  // namespace holdwell
