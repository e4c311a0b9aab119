#pragma once
// The colour of the noise a voice stands in, and frames made white in it.
//
// The noise of a voice is never white: breath sounds through the same mouth as the voice, rooms
// rumble. A least-squares fit is the best there is only where noise is white, so a frame is sent
// through a filter that makes its noise white before f0 is fitted. Harmonics stay harmonics.
//
// In:    what a fit of harmonics left over, or a frame without a voice, frame by frame.
// Model: autoregressive of order 10 (Levinson-Durbin recursion; J. Makhoul, "Linear prediction",
//        Proc. IEEE 63(4), 561-580, 1975), from autocorrelations averaged over the last frames.
// State: a few numbers; nothing is allocated after construction.

#include <array>
#include <cstddef>
#include <span>

namespace holdwell {

// One frame twice, both of the same length: as it came, and with its noise white.
struct FramePair {
    std::span<const float> heard;
    std::span<const float> whitened;
};

class NoiseColour {
public:
    static constexpr std::size_t kOrder = 10;

    // The frame that noise came from.
    struct Source {
        double power;         // mean square
        double octaves{0.0};  // its voice's movement in 40 ms
    };
    // What is noise of a frame: all of it where nobody sounds, or what a fit left over.
    void add(std::span<const float> noise, const Source& from) noexcept;
    // The frame `out` with its noise white; x is that frame and the kOrder samples before it.
    void whiten(std::span<const float> x, std::span<float> out) const noexcept;
    // What whitening makes of the power of a steady tone.
    double power_gain(double radians_per_sample) const noexcept;
    void reset() noexcept { *this = {}; }

private:
    std::array<double, kOrder + 1> correlation_{};  // at lags 0 .. kOrder, of one sample's noise
    std::array<float, kOrder + 1> filter_{1.0f};
    std::array<double, kOrder + 1> gain_{1.0};  // autocorrelation of the filter
};

}  // namespace holdwell
