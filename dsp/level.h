#pragma once
// How loud: RMS in the voice band, and clipping. The room beneath it: dsp/room_floor.h.
//
// The voice band is 70 Hz .. 8 kHz, flat: A-weighting would take 16 dB off C3 and 6 dB off F4, and
// a soft rounded vowel is nearly all fundamental, so the same easy voice would read quieter the
// lower it is (IEC 61672-1, table 3). A-weighting describes the room alone (dsp/a_weighting.h).

#include <array>
#include <cstddef>
#include <span>

#include "dsp/analysis_config.h"
#include "dsp/biquad.h"
#include "dsp/units.h"

namespace holdwell {

struct LevelReading {
    Dbfs hop{kDigitalSilence};  // RMS of the newest hop in the voice band
    Dbfs window{
        kDigitalSilence};  // RMS of the last four hops, about the window that f0 is read from
    std::array<float, 4> quarter_power{};  // mean squares of the newest hop's quarters
    int clipped_samples{0};  // of the newest hop, in runs of three or more at full scale
};

class VoiceBandLevel {
public:
    explicit VoiceBandLevel(const AnalysisConfig& config);
    LevelReading push(std::span<const float> hop) noexcept;
    void reset() noexcept;

private:
    static constexpr std::size_t kHopsInWindow = 4;

    int count_clipped(std::span<const float> hop) noexcept;

    AnalysisConfig config_;
    BiquadCascade<1> high_pass_;
    BiquadCascade<1> low_pass_;
    std::array<double, kHopsInWindow> recent_{};  // mean squares
    std::size_t next_{0};
    int run_at_full_scale_{0};
};

}  // namespace holdwell
