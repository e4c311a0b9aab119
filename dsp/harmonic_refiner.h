#pragma once
// The f0 and its slope that explain one frame best, and how sure they are.
//
// In:    one frame of N samples at rate fs, any scale; t = 0 is its middle; a first guess.
// Model: x(t) = sum_{k=1}^{K} a_k cos(k phi(t)) + b_k sin(k phi(t)) + noise,
//        phi'(t) = 2 pi (p_0 P_0(u) + p_1 P_1(u) + p_2 P_2(u)), u = t / 20 ms, P_m the Legendre
//        polynomials, every sample weighted by w (harmonic_fit.h). So p_0 is the mean of f0 over
//        the 40 ms about the middle, and p_1 half of what it rises by.
// How:   Gauss-Newton steps on p, with a_k and b_k eliminated at every step (variable projection:
//        G. H. Golub and V. Pereyra, SIAM J. Numer. Anal. 10(2), 413-432, 1973).
//        A fit of straight lines weighs the middle of a frame more than its ends, and neighbouring
//        cycles of a voice are never quite alike: the mean needs the bend p_2. Where the last
//        frames were uneven, what is expected of p_2 is the jitter of a healthy voice, and it
//        follows the frame as far as the noise lets it be seen (maximum a posteriori); in noise,
//        and for a steady tone, a straight line is fitted.
//        In white noise the standard deviation of p_0 is about 1.2 times the Cramer-Rao bound
//        (tests/reference/cramer_rao_test.cpp).
// The rows cos(k phi) and sin(k phi) are made anew for every piece of the frame, so that they stay
// in the processor's first cache and the state small. State: scratch of a fixed size, about 40 kB;
// nothing is allocated after construction.

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "dsp/noise_colour.h"
#include "dsp/units.h"
#include "dsp/vector_sums.h"

namespace holdwell {

struct RefinedF0 {
    Hertz f0{};                  // mean over 40 ms
    double slope_hz_per_s{0.0};  // mean over 40 ms
    double residual{1.0};        // share of the frame's energy left over, 0 .. 1
    Hertz error{};               // standard error of f0 if the fitted frame's noise is white
};

class HarmonicRefiner {
public:
    // frame_length: N. shape: the window's exponent, as for HarmonicFit.
    HarmonicRefiner(SampleRate rate, std::size_t frame_length, double shape);

    // Improves a guess that is right within about 1 %, from harmonics below `band`: f0, slope and
    // error from the whitened frame, the residual from the frame as heard; both of N samples.
    // Nothing when the frame does not determine f0.
    std::optional<RefinedF0> refine(const FramePair& frame, Hertz guess, Hertz band) noexcept;
    // Forgets the last frames: how uneven their voice was and where it went, from which the search
    // begins.
    void reset() noexcept;
    // What the last call left over of the frame as heard.
    std::span<const float> left_over() const noexcept { return {heard_.rest.data(), n_}; }

private:
    static constexpr std::size_t kMost = 20;  // harmonics
    static constexpr std::size_t kMostColumns = 2 * kMost;

    static constexpr std::size_t kPiece = 8 * kLanes;  // samples

    static constexpr std::size_t kCourse = 3;    // p_m
    using Course = std::array<double, kCourse>;  // Hz

    using CourseMatrix = std::array<double, kCourse * kCourse>;

    // (p_2 / p_0)^2, and what the noise explains of it.
    struct Bend {
        double square{0.0};
        double noise{0.0};
    };
    struct NormalEquations {
        CourseMatrix matrix;
        Course right;
    };
    struct Step {
        Course change;
        double residual;
        double variance;  // of p_0, Hz^2
        Bend bend;
    };
    // One of the two frames and its fit.
    struct Fitted {
        explicit Fitted(std::size_t length) : x(length), weighted(length), rest(length) {}
        std::vector<float> x, weighted;                // w x
        std::vector<float> rest;                       // what is left over
        std::array<double, kMostColumns> amplitude{};  // a_k, then b_k
    };
    // sum w cos(m phi) and sum w sin(m phi).
    struct Moments {
        std::array<LaneSum, kMostColumns + 1> even, odd;
    };
    // Weighted sums over the whitened frame of the model's derivatives by p_m.
    struct Derivatives {
        std::array<std::array<LaneSum, kCourse>, kCourse> squares;  // lower triangle
        std::array<LaneSum, kCourse> with_rest;
        std::array<std::array<LaneSum, kMostColumns>, kCourse> with_column;
    };

    void set(Fitted& fitted, std::span<const float> x) noexcept;
    void turn(const Course& course) noexcept;
    std::size_t fill_rows(std::size_t begin, std::size_t harmonics) noexcept;
    void fill_gram(const Moments& moments, std::size_t harmonics) noexcept;
    void add_far(Moments& moments, std::size_t begin, std::size_t count,
                 std::size_t harmonics) noexcept;
    bool fit_amplitudes(std::size_t harmonics) noexcept;
    void subtract_model(Fitted& fitted, std::size_t begin, std::size_t count,
                        std::size_t harmonics) noexcept;
    void differentiate_model(std::size_t begin, std::size_t count, std::size_t harmonics) noexcept;
    Derivatives differentiate(std::size_t harmonics) noexcept;
    double energy_left(const Fitted& fitted) const noexcept;
    std::optional<Step> step(const Course& course, std::size_t harmonics) noexcept;
    static std::optional<Bend> bend_without_expectation(const Course& course,
                                                        NormalEquations equations,
                                                        double noise) noexcept;
    double unevenness() const noexcept;
    void remember(const Bend& bend) noexcept;

    float* cosines(std::size_t k) noexcept { return &cos_[k * kPiece]; }
    float* sines(std::size_t k) noexcept { return &sin_[k * kPiece]; }

    double rate_hz_;
    std::size_t n_;
    std::size_t stride_;        // padded frame length
    double energy_{0.0};        // of the frame as heard, weighted
    std::vector<float> place_;  // u
    std::vector<float> weight_;
    Fitted heard_, whitened_;
    Bend seen_;                               // mean over the last frames
    double last_slope_{0.0};                  // p_1 / p_0
    std::vector<float> turn_cos_, turn_sin_;  // cos phi, sin phi, of the whole frame
    // Of one piece of the frame:
    std::vector<float> cos_, sin_;  // rows k = 0 .. kMost of cos(k phi), sin(k phi)
    std::array<float, kPiece> twice_cos_{};
    std::array<std::array<float, kPiece>, 4> far_{};
    std::array<float, kPiece> by_phase_{};  // derivative of the model by phi
    std::array<std::array<float, kPiece>, kCourse> by_course_{}, weighted_by_course_{};
    std::vector<double> gram_;  // factor, lower triangle; columns: cosines, then sines
};

}  // namespace holdwell
