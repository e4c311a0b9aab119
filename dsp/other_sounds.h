#pragma once
// Does something else sound along with the voice: another voice, an instrument, music?
//
// In:    hops of hop_length(config) mono samples with their readings, in order.
// Out:   of the voice since begin(): was there company for a third of the time or more?
// Delay: the window, 0.12 s.
// State: a fixed size, allocated by the constructor; push allocates nothing.
//
// A voice on one note is a row of lines at the multiples of its f0. Every 40 ms of a voice that is
// steady for the length of the window the lines of its spectrum are looked at, up to 3 kHz: those
// no more than 20 dB below the strongest, and 12 dB over what lies about them. The rule: "Two such
// lines or more are neither multiples of f0, nor half-way between two, nor were they in the room
// before the voice. Or the first multiple is missing, and the 2nd or the 3rd is missing too, or a
// line lies half-way between two: two notes were read as one below both."
// Half-way lines are left out, as a rough voice has them itself. A second voice at the octave or
// the fifth hides among the multiples; it is told by lines that do not keep step
// (dsp/keeping_step.h), out of it by 6 cents, or more where the pitch moves; f0 is made even first
// (dsp/even_pitch.h). Echoes of a voice that moves do the same, so the slower its end falls, by
// echo or sung so, the more is asked: "Where it falls by 20 dB within 70 ms, a line is out of step
// in a fifth of the looks. Else it is a line that two voices would share, while the others keep
// step: in a fifth of the looks where it falls within 100 ms, in a third where it falls slower or
// the room hides how."

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "dsp/analysis_config.h"
#include "dsp/decimator.h"
#include "dsp/even_pitch.h"
#include "dsp/frame_reading.h"
#include "dsp/keeping_step.h"
#include "dsp/spectrum.h"

namespace holdwell {

// True when these lines are not those of one voice at f0. `resolution`: of the spectrum's bins.
bool are_of_several(std::span<const Line> lines, Hertz f0, Hertz resolution);

// How long the end of a sound falls, from within 5 dB of its level to 25 dB below it; absent when
// it does not get there. Levels of 10 ms hops, oldest first; `voiced`: how many of them end with
// the last one of the voice.
std::optional<Seconds> fall_of(std::span<const float> levels, std::size_t voiced);

class OtherSounds {
public:
    explicit OtherSounds(const AnalysisConfig& config);

    // [any]
    void push(std::span<const float> hop, const FrameReading& reading) noexcept;
    // A voice begins.
    void begin() noexcept { looks_ = steps_ = {}; }
    // Absent company: false too when the voice was never steady enough to tell.
    bool heard() const noexcept;

private:
    static constexpr std::size_t kF0s = 12;     // hops: the window, and a little more
    static constexpr std::size_t kF0Kept = 18;  // and what the f0 lags behind
    static constexpr std::size_t kMostLines = 48;
    static constexpr std::size_t kLevels = 320;  // the longest bridge, and the end of the voice

    struct Looks {
        int all{0};
        int with_company{0};
        int shared{0};  // of these, with lines out of step that two voices would share
    };
    bool is_voiced_for(std::size_t hops) const noexcept;
    std::optional<Hertz> steady_f0() const noexcept;
    void look(const FrameReading& reading, SampleCount hop) noexcept;
    void look_at_steps(const FrameReading& reading, SampleCount hop) noexcept;
    void transform(std::span<const float> samples) noexcept;
    void learn_room() noexcept;
    std::span<const Line> find_lines() noexcept;
    // The powers about a bin.
    std::span<const float> neighbours_of(std::size_t bin) const noexcept;
    void keep_level(const FrameReading& reading) noexcept;
    std::optional<Seconds> fall() const noexcept;
    Hertz resolution() const noexcept;

    Decimator decimator_;
    RealFft fft_;
    std::size_t lag_;               // samples by which the even-pitched window ends earlier
    std::vector<float> decimated_;  // what one hop gives
    std::vector<float> recent_;     // the last fft_.size() + lag_ samples, oldest first
    std::vector<float> window_, windowed_, spectrum_, even_;
    std::vector<double> cycles_;
    std::vector<float> power_, room_;
    std::array<Line, kMostLines> lines_{};
    std::array<double, kF0Kept> f0s_{};    // oldest first; 0 where there was none
    std::array<float, kLevels> levels_{};  // ring, of hops
    std::size_t hops_{0};
    std::size_t last_voiced_{0};  // hop
    Looks looks_;                 // of a steady voice
    Looks steps_;                 // at the steps of its lines
};

}  // namespace holdwell
