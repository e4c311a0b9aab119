#pragma once
// How loud: RMS in the voice band, the room beneath it, and clipping.
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

// The room: the level that is there when nobody sounds.
//
// Falls at once with a 100 ms mean of the level, rises by 3 dB a second and only while nothing
// sounds, so that neither a long hold nor a fading one can become the room. Starts from what is
// heard first, but not above -40 dBFS: a recording may begin in the middle of a note.
class NoiseFloor {
public:
    explicit NoiseFloor(Seconds hop) : hop_{hop} {}
    // Known already.
    NoiseFloor(Seconds hop, Dbfs floor) : hop_{hop}, heard_{kSmoothed}, floor_{floor}
    {
        recent_.fill(mean_square_of(floor));
    }

    enum class Source { nobody, somebody };
    // hop_level: of the newest hop. Returns the floor from here on.
    Dbfs push(Dbfs hop_level, Source sounding) noexcept;
    Dbfs level() const noexcept { return floor_; }
    void reset() noexcept { *this = NoiseFloor{hop_}; }

private:
    static constexpr std::size_t kSmoothed = 10;

    Seconds hop_;
    std::array<double, kSmoothed> recent_{};
    std::size_t heard_{0};
    Dbfs floor_{kDigitalSilence};
};

}  // namespace holdwell
