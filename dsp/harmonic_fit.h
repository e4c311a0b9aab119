#pragma once
// Least-squares fit of a harmonic sum to one frame: how much of it repeats with a given period.
//
// In:    one frame of N samples at rate fs, any scale; t = 0 is its middle.
// Model: x(t) = sum_{k=1}^{K} a_k cos(2 pi k f t) + b_k sin(2 pi k f t) + noise,
//        every sample weighted by w(t) = cos(pi t / (N / fs))^p.
// Out:   the share of the weighted energy left over, and the power of every line.
// How:   about the middle of the frame cosines and sines decouple, which leaves two K x K systems;
//        their coefficients are the window's transform at multiples of f, from a table.
// State: scratch of a fixed size; nothing is allocated after construction.

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "dsp/two.h"
#include "dsp/units.h"

namespace holdwell {

inline constexpr std::size_t kMostLines = 16;

// How the harmonics of one candidate explain a frame.
struct LineFit {
    double residual{1.0};                    // share of the frame's energy left over, 0 .. 1
    std::size_t count{0};                    // lines fitted
    std::array<double, kMostLines> power{};  // a_k^2 + b_k^2, k = 1 first
    double noise_power{0.0};  // of a line that is not there, if what is left over is white noise
};

// The frame's weights w, with exponent p 0 (rectangular) .. 2 (Hann), padded with zeros to whole
// lanes (vector_sums.h).
std::vector<float> window_weights(std::size_t length, double shape);

class HarmonicFit {
public:
    // frame_length: N, even.
    HarmonicFit(SampleRate rate, std::size_t frame_length, double shape);

    // Takes the frame that the calls below are about; x.size() == N.
    void set_frame(std::span<const float> x) noexcept;

    // The fit of at most `most` (<= kMostLines) harmonics of f below `band`.
    LineFit fit(Hertz f, Hertz band, std::size_t most) noexcept;

private:
    void project(double radians_per_sample, std::size_t lines) noexcept;
    // Of the window, at 0 .. 2 K times the frequency of a candidate.
    using Transform = std::array<double, 2 * kMostLines + 1>;
    // Energy explained by the lines; sets their power in `result`.
    double explain(const Transform& transform, LineFit& result) noexcept;
    double window_transform(double radians_per_sample) const noexcept;

    double rate_hz_;
    std::size_t n_;     // frame length
    std::size_t half_;  // padded half length
    double energy_{0.0};
    double weight_sum_{0.0};         // of w
    double weight_square_sum_{0.0};  // of w^2
    std::vector<float> weight_;
    std::vector<float> weighted_;
    std::vector<float> even_, odd_;    // weighted, folded about the middle
    std::vector<float> window_table_;  // sum of w cos(theta t), theta = 0 .. pi
    std::vector<float> rows_;          // scratch of the recurrences
    // Of the cosines and of the sines, which know nothing of each other.
    std::vector<Two> gram_;
    std::array<Two, kMostLines> products_{}, solution_{};
};

}  // namespace holdwell
