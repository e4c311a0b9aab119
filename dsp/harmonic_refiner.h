#pragma once
// The f0 and its slope that explain one frame best, and how sure they are.
//
// In:    one frame of N samples at rate fs, any scale; t = 0 is its middle; a first guess.
// Model: x(t) = sum_{k=1}^{K} a_k cos(k phi(t)) + b_k sin(k phi(t)) + noise,
//        phi(t) = 2 pi (f t + s t^2 / 2), every sample weighted by w (harmonic_fit.h).
// How:   Gauss-Newton steps on f and s, with a_k and b_k eliminated at every step (variable
//        projection: G. H. Golub and V. Pereyra, SIAM J. Numer. Anal. 10(2), 413-432, 1973). In
//        white noise this is close to the maximum-likelihood estimate: its standard deviation is
//        about 1.1 times the Cramer-Rao bound (tests/reference/cramer_rao_test.cpp).
// The rows cos(k phi) and sin(k phi) are made anew for every piece of the frame, so that they stay
// in the processor's first cache and the state small. State: scratch of a fixed size, about 40 kB;
// nothing is allocated after construction.

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "dsp/units.h"
#include "dsp/vector_sums.h"

namespace holdwell {

struct RefinedF0 {
    Hertz f0{};
    double slope_hz_per_s{0.0};
    double residual{1.0};  // share of the frame's energy left over, 0 .. 1
    Hertz error{};         // standard error of f0 if what is left over is white noise
};

class HarmonicRefiner {
public:
    // frame_length: N. shape: the window's exponent, as for HarmonicFit.
    HarmonicRefiner(SampleRate rate, std::size_t frame_length, double shape);

    // Improves a guess that is right within about 1 %, from harmonics below `band`. Nothing when
    // the frame does not determine f0. x.size() == N.
    std::optional<RefinedF0> refine(std::span<const float> x, Hertz guess, Hertz band) noexcept;

private:
    static constexpr std::size_t kMost = 20;  // harmonics
    static constexpr std::size_t kMostColumns = 2 * kMost;

    static constexpr std::size_t kPiece = 10 * kLanes;  // samples

    struct Step {
        double df_hz;
        double dslope_hz_per_s;
        double residual;
        double information;  // of f with s and the amplitudes unknown, per left-over energy
    };
    // sum w cos(m phi) and sum w sin(m phi).
    struct Moments {
        std::array<LaneSum, kMostColumns + 1> even, odd;
    };
    // Weighted sums over the frame of what is left over and of the model's derivatives.
    struct Derivatives {
        LaneSum ff, fs, ss;  // of the derivatives by f and s with each other
        LaneSum f_rest, s_rest, rest;
        std::array<LaneSum, kMostColumns> f_column, s_column;
    };

    void set_frame(std::span<const float> x) noexcept;
    void turn(Hertz f, double slope) noexcept;
    std::size_t fill_rows(std::size_t begin, std::size_t harmonics) noexcept;
    void fill_gram(const Moments& moments, std::size_t harmonics) noexcept;
    void add_far(Moments& moments, std::size_t begin, std::size_t count,
                 std::size_t harmonics) noexcept;
    bool fit_amplitudes(std::size_t harmonics) noexcept;
    void subtract_model(std::size_t begin, std::size_t count, std::size_t harmonics) noexcept;
    Derivatives differentiate(std::size_t harmonics) noexcept;
    std::optional<Step> step(Hertz f, double slope, std::size_t harmonics) noexcept;

    float* cosines(std::size_t k) noexcept { return &cos_[k * kPiece]; }
    float* sines(std::size_t k) noexcept { return &sin_[k * kPiece]; }

    double rate_hz_;
    std::size_t n_;
    std::size_t stride_;  // padded frame length
    double energy_{0.0};
    std::vector<float> time_;  // seconds from the middle
    std::vector<float> weight_;
    std::vector<float> frame_, weighted_frame_;
    std::vector<float> turn_cos_, turn_sin_;  // cos phi, sin phi, of the whole frame
    // Of one piece of the frame:
    std::vector<float> cos_, sin_;  // rows k = 0 .. kMost of cos(k phi), sin(k phi)
    std::array<float, kPiece> twice_cos_{};
    std::array<std::array<float, kPiece>, 4> far_{};
    std::array<float, kPiece> rest_{}, by_phase_{};  // left over; derivative of the model by phi
    std::array<float, kPiece> by_f_{}, by_slope_{}, weighted_f_{}, weighted_slope_{};
    std::vector<double> gram_;  // factor, lower triangle; columns: cosines, then sines
    std::array<double, kMostColumns> amplitude_{};
};

}  // namespace holdwell
