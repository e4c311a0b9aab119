#pragma once
// Candidates for the period of one frame: minima of YIN's difference function.
//
// In:    x, N samples of the frame at rate fs, any scale.
// Out:   at most kMostCandidates periods, best first.
//
//   d(tau)  = sum_{j=0}^{N-1-tau} (x[j] - x[j+tau])^2                                     (6)
//   d'(tau) = d(tau) / sum_{j=0}^{N-1-tau} (x[j]^2 + x[j+tau]^2)
//
// Equation (6): A. de Cheveigne and H. Kawahara, "YIN, a fundamental frequency estimator for speech
// and music", J. Acoust. Soc. Am. 111(4), 1917-1930, 2002, over the samples that overlap; d is
// normalised by the energy of that overlap, as P. McLeod and G. Wyvill, "A smarter way to find
// pitch", ICMC 2005, so that d' = 0 where x repeats, 1 for noise and 2 where it repeats inverted.
// No absolute threshold: which minimum is the period is decided later (f0_tracker.h).
// Lags: half a sample apart. The products of whole lags are summed as they stand, which costs less
// than transforms of so short a frame; those between are interpolated, for x was low-passed.

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "dsp/units.h"

namespace holdwell {

struct PeriodCandidate {
    Hertz f0{};
    double aperiodicity{1.0};  // d' there, interpolated
};

inline constexpr std::size_t kMostCandidates = 8;

struct PeriodCandidates {
    std::array<PeriodCandidate, kMostCandidates> list{};
    std::size_t count{0};
};

struct F0Range {
    Hertz lowest;
    Hertz highest;
};

class DifferenceFunction {
public:
    DifferenceFunction(SampleRate rate, std::size_t frame_length, F0Range range);

    // x.size() == frame_length. Allocates nothing.
    PeriodCandidates find_candidates(std::span<const float> x) noexcept;

private:
    // On each side of a lag between two whole ones.
    static constexpr std::size_t kReach = 8;

    void correlate(std::span<const float> x) noexcept;
    void interpolate() noexcept;
    void sum_energy(std::span<const float> x) noexcept;
    void fill_difference() noexcept;

    double rate_hz_;
    F0Range range_;
    std::size_t n_;
    std::size_t lag_count_;                   // half-sample lags
    std::vector<float> padded_;               // x and zeros
    std::vector<float> correlation_;          // sums x[j] x[j+lag], from lag -kReach on
    std::vector<float> between_;              // the same half a sample later, from lag 0 on
    std::array<float, kReach> interpolator_;  // weights of the lags to each side, nearest first
    std::vector<double> energy_;              // running sums of x^2
    std::vector<double> overlap_energy_;      // sums x[j]^2 + x[j+lag]^2
    std::vector<double> difference_;          // d' at lags of half a sample
};

}  // namespace holdwell
