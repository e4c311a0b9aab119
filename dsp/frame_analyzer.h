#pragma once
// The chain for one hop: band levels, f0 with its error, and the state of the sound source.
//
// In:    hops of hop_length(config) mono samples, -1 .. +1 at any level, in order.
// Out:   one FrameReading a hop, about the window that ends with that hop.
// Delay: half the window (19 ms) and the decimation filter (1 ms): a reading's `centre` says.
// State: under 100 kB at 44.1 and 48 kHz, allocated by the constructor and by nothing else.
// NaN and infinite samples are read as silence.

#include <memory>
#include <span>

#include "dsp/analysis_config.h"
#include "dsp/frame_reading.h"
#include "dsp/frication.h"
#include "dsp/fry.h"

namespace holdwell {

class FrameAnalyzer {
public:
    explicit FrameAnalyzer(const AnalysisConfig& config);
    ~FrameAnalyzer();
    FrameAnalyzer(FrameAnalyzer&&) noexcept;
    FrameAnalyzer& operator=(FrameAnalyzer&&) noexcept;

    // hop.size() must equal hop_length(config). Same samples since reset() -> same reading. [any]
    FrameReading push(std::span<const float> hop) noexcept;
    void reset() noexcept;
    // So many samples were lost: time goes on. [any]
    void skip(SampleCount lost) noexcept;

    // More about the hop just pushed, for the timers of /s/ and of fry.
    const FricationReading& frication() const noexcept;
    const FryReading& fry() const noexcept;

private:
    struct Chain;
    std::unique_ptr<Chain> chain_;
};

}  // namespace holdwell
