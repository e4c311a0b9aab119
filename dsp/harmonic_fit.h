#pragma once
// Least-squares fit of a harmonic sum to one frame: how much of the frame repeats with a given
// period, and the f0 that explains it best.
//
// In:    one frame of N samples at rate fs, any scale. t = 0 is its middle.
// Model: x(t) = sum_{k=1}^{K} a_k cos(k phi(t)) + b_k sin(k phi(t)) + noise,
//        phi(t) = 2 pi (f t + s t^2 / 2), every sample weighted by w(t) = cos(pi t / (N / fs))^p.
// fit:    s = 0; cosines and sines then decouple about the middle, which leaves two K x K systems.
// refine: Gauss-Newton steps on f and s with a_k, b_k eliminated (variable projection, as
//         G. H. Golub and V. Pereyra, SIAM J. Numer. Anal. 10(2), 413-432, 1973). At the optimum and
//         in white noise this is the maximum-likelihood estimate: see the Cramer-Rao test.
// State: scratch of a fixed size; nothing is allocated after construction.

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "dsp/units.h"

namespace holdwell {

inline constexpr std::size_t kMostHarmonics = 16;

// How the harmonics of one candidate explain a frame.
struct LineFit {
    double residual{1.0};   // share of the frame's energy left over, 0 .. 1
    std::size_t count{0};   // harmonics fitted
    std::array<double, kMostHarmonics> power{};  // a_k^2 + b_k^2, k = 1 first
    double noise_power{0.0};  // of a line that is not there, if what is left over is white noise
};

struct RefinedF0 {
    Hertz f0{};
    double slope_hz_per_s{0.0};
    double residual{1.0};  // share of the frame's energy left over, 0 .. 1
    Hertz error{};         // standard error of f0 if what is left over is white noise
};

class HarmonicFit {
public:
    // frame_length: N, samples. shape: the window's exponent p, 0 (rectangular) .. 2 (Hann).
    HarmonicFit(SampleRate rate, std::size_t frame_length, double shape);

    // Takes the frame that the calls below are about; x.size() == N.
    void set_frame(std::span<const float> x) noexcept;
    // Weighted energy of the frame.
    double energy() const noexcept { return energy_; }

    // The fit of at most `most` (<= kMostHarmonics) harmonics of f below `band`.
    LineFit fit(Hertz f, Hertz band, std::size_t most) noexcept;

    // Improves a first guess (within about 1 %) and a first slope. Nothing when the frame does not
    // determine f0.
    std::optional<RefinedF0> refine(Hertz guess, double slope_hz_per_s, Hertz band) noexcept;

private:
    struct Solver;
    struct Step;

    void fill_base(Hertz f, double slope) noexcept;
    std::optional<Step> gauss_newton_step(std::size_t harmonics) noexcept;
    double window_transform(double radians_per_sample) const noexcept;

    double rate_hz_;
    std::size_t n_;       // frame length
    std::size_t stride_;  // padded frame length
    std::size_t half_;    // padded half length
    double energy_{0.0};
    double weight_sum_{0.0};         // of w
    double weight_square_sum_{0.0};  // of w^2
    std::vector<float> time_;    // seconds from the middle
    std::vector<float> weight_;  // w
    std::vector<float> frame_;
    std::vector<float> even_, odd_;  // weighted, folded about the middle
    std::vector<float> half_time_;
    std::vector<double> window_table_;  // sum of w cos(theta t), by theta
    std::vector<float> cos_, sin_;      // harmonics 1 .. kMostHarmonics of the frame, row by row
    std::vector<float> scratch_;
    std::vector<double> gram_, rhs_, solution_;
};

}  // namespace holdwell
