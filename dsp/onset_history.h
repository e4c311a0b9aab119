#pragma once
// What a beginning is judged by: the recent past in steps of a millisecond.
//
// In:    hops of mono samples, -1 .. +1 at any level, and the FrameReading of each.
// Out:   mean squares of three bands, step by step, and the f0 of the recent hops.
// Delay: none but that of the filters: 0.3 ms.
// State: the last 1.5 s; push allocates nothing. NaN and infinite samples are read as silence.
//
// The bands: all of the voice (70 Hz up); its fundamental (70 to 800 Hz); and two in which air is
// heard before a voice: 1 to 4 kHz, where breath through an open mouth is strongest, and 4 kHz up.
// Slopes: 12 dB an octave, from 4 kHz up 24.

#include <array>
#include <cstddef>
#include <optional>
#include <span>

#include "dsp/analysis_config.h"
#include "dsp/biquad.h"
#include "dsp/frame_reading.h"

namespace holdwell {

class OnsetHistory {
public:
    enum class Band { voice, fundamental, breath, hiss };
    static constexpr std::int64_t kKept = 1536;  // steps

    explicit OnsetHistory(const AnalysisConfig& config);

    // [any]
    void push(std::span<const float> hop, const FrameReading& reading) noexcept;
    // So many samples were lost: the past is forgotten, time goes on.
    void skip(SampleCount lost) noexcept;

    // Steps are counted from the first sample after the last loss.
    std::int64_t oldest() const noexcept;  // first step that is still known
    std::int64_t end() const noexcept { return steps_; }
    std::int64_t step_at(SampleIndex at) const noexcept;
    double steps_per_second() const noexcept
    {
        return rate_.hz / static_cast<double>(step_samples_);
    }
    Seconds duration(double steps) const noexcept { return Seconds{steps / steps_per_second()}; }

    // Mean square of one step; 0 outside what is known.
    double power(Band band, std::int64_t step) const noexcept;
    // Mean square over `width` steps about the middle of `step`, shares of steps at the ends.
    double smooth(Band band, std::int64_t step, double width) const noexcept;

    struct Voiced {
        double step{};              // middle of the window it was found in
        std::optional<Hertz> f0{};  // absent in fry
    };
    // The `back`-th newest reading (0 the newest); nothing if it was not voiced or is not known.
    std::optional<Voiced> voiced(std::size_t back) const noexcept;
    static constexpr std::size_t kReadings = 64;

private:
    struct Powers {
        float voice{0.0f}, fundamental{0.0f}, breath{0.0f}, hiss{0.0f};
    };

    SampleRate rate_;
    std::int64_t step_samples_;
    void filter(std::span<const float> samples) noexcept;
    void end_step() noexcept;

    Biquad voice_filter_;
    BiquadPair fundamental_and_upper_, breath_and_hiss_;
    std::array<Powers, kKept> kept_{};
    std::int64_t steps_{0};
    SampleIndex first_{};  // sample of step 0
    std::int64_t in_step_{0};
    struct Sums {
        double voice{0.0}, fundamental{0.0};
        Two breath_and_hiss{};
    } sums_;
    std::array<std::optional<Voiced>, kReadings> readings_{};
    std::size_t readings_pushed_{0};
};

}  // namespace holdwell
