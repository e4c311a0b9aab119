#pragma once
// Pulse register (fry): slow, irregular pulses of the voice, each dying away before the next.
//
// In:    hops of mono samples, -1 .. +1 at any level, in order, and what the f0 chain says of each.
// Out:   one FryReading a hop.
// Delay: a run is known with its third pulse after a voice, with its fifth without one; the
//        reading says where it began.
// State: a fixed size; push allocates nothing. NaN and infinite samples are read as silence.
//
// The envelope (2 ms, 800 Hz .. 4 kHz, where rooms and mains are weak) of pulse register has steep
// peaks 13 .. 75 ms apart, stands more than 10 dB below them in between, and most of the time
// more than 6 dB. What the f0 chain calls voiced is never fry. Rates: about 7 .. 78 Hz, mean 36 Hz
// (H. Hollien and J. Michel, J. Speech Hear. Res. 11, 600-604, 1968; from memory); pulses are heard
// one by one below about 70 Hz (from memory). A voice between 56 and 75 Hz that is regular is a low
// modal voice, not fry.

#include <array>
#include <cstddef>
#include <optional>
#include <span>

#include "dsp/analysis_config.h"
#include "dsp/frame_reading.h"

namespace holdwell {

struct FryReading {
    bool fry{false};  // a run of slow pulses is under way
    // Engaged together, when fry.
    std::optional<SampleIndex> since{};       // first pulse of the run
    std::optional<SampleIndex> last_pulse{};  // newest pulse: a run that has ended ended here
    std::optional<Hertz> rate{};              // of the latest pulses, 13 .. 75 Hz
    // Mean difference of successive intervals over their mean: about 0.02 in a modal voice, 0.2
    // and more in fry. 0 when not fry.
    double irregularity{0.0};
};

class FryDetector {
public:
    explicit FryDetector(const AnalysisConfig& config);

    // `f0_says`: the state that the f0 chain alone gives this hop. Pulses that follow a voice are
    // believed sooner than pulses out of nowhere, which may be a typist's. [any]
    FryReading push(std::span<const float> hop, Phonation f0_says) noexcept;
    void reset() noexcept;

private:
    struct Pulse {
        double at_step{};  // in steps from the start, between steps too
        double level_db{};
        int loud_steps{0};  // since the pulse, nearly as loud as it
    };
    static constexpr std::size_t kEnvelope = 256;  // steps kept: 128 ms
    static constexpr std::size_t kPulses = 6;      // pulses judged together

    void filter(std::span<const float> samples) noexcept;
    void push_step(double mean_square) noexcept;
    void follow(double level_db) noexcept;
    void confirm_peak() noexcept;
    void add_pulse(const Pulse& pulse) noexcept;
    void begin_run(const Pulse& pulse) noexcept;
    void hear_voice() noexcept;
    void hear_room(double mean_square) noexcept;
    bool follows_voice() const noexcept;
    bool run_is_fry() const noexcept;
    bool envelope_repeats() const noexcept;
    double envelope_correlation(std::int64_t lag) const noexcept;
    double mean_interval_steps() const noexcept;
    double irregularity() const noexcept;
    double envelope_db(std::int64_t step) const noexcept;
    SampleIndex index_of(double step) const noexcept;
    const Pulse& pulse(std::size_t newest_first) const noexcept;

    SampleRate rate_;
    double high_pass_;
    double low_pass_;
    std::size_t step_length_;  // samples, 0.5 ms
    double step_s_;

    struct Filtered {
        double before{0.0}, high{0.0}, low{0.0};
    } filtered_;
    double energy_{0.0};  // of the step under way
    std::size_t in_step_{0};
    std::array<double, 4> steps_{};             // mean squares of the last 2 ms
    std::array<double, kEnvelope> envelope_{};  // dB
    std::int64_t step_{0};                      // steps so far

    double valley_db_{0.0};                  // lowest since the last peak
    std::optional<std::int64_t> rising_to_;  // highest step since the valley, not yet a pulse

    std::array<Pulse, kPulses> pulses_{};
    std::size_t in_run_{0};
    int short_intervals_{0};  // one after the other
    double run_begin_step_{0.0};
    std::int64_t last_voiced_step_;
    double voice_db_{0.0};  // of the last voice's envelope, smoothed; only read soon after it
    double room_{0.0};      // mean square in the band without a voice; 0 until heard
};

}  // namespace holdwell
