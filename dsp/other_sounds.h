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
// Half-way lines are left out, as a rough voice has them itself; so a second voice exactly an
// octave below is not told from roughness, nor one an octave above from a bright vowel.

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "dsp/analysis_config.h"
#include "dsp/decimator.h"
#include "dsp/frame_reading.h"
#include "dsp/spectrum.h"

namespace holdwell {

struct Line {
    Hertz at{};
    double power{};
};

// True when these lines are not those of one voice at f0. `resolution`: of the spectrum's bins.
bool are_of_several(std::span<const Line> lines, Hertz f0, Hertz resolution);

class OtherSounds {
public:
    explicit OtherSounds(const AnalysisConfig& config);

    // [any]
    void push(std::span<const float> hop, const FrameReading& reading) noexcept;
    // A voice begins.
    void begin() noexcept { looked_at_ = with_company_ = 0; }
    // Absent company: false too when the voice was never steady enough to tell.
    bool heard() const noexcept;

private:
    static constexpr std::size_t kF0s = 12;  // hops: the window, and a little more
    static constexpr std::size_t kMostLines = 48;

    std::optional<Hertz> steady_f0() const noexcept;
    void transform() noexcept;
    void learn_room() noexcept;
    std::span<const Line> find_lines() noexcept;
    double median_about(std::size_t bin) const noexcept;

    Decimator decimator_;
    RealFft fft_;
    std::vector<float> decimated_;  // what one hop gives
    std::vector<float> recent_;     // the last fft_.size() samples, oldest first
    std::vector<float> window_, windowed_, spectrum_;
    std::vector<float> power_, room_;
    std::array<Line, kMostLines> lines_{};
    std::array<double, kF0s> f0s_{};  // ring; 0 where there was none
    std::size_t hops_{0};
    int looked_at_{0};
    int with_company_{0};
};

}  // namespace holdwell
