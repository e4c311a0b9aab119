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
// Cost: two transforms a frame; the inverse one has twice the length, which halves the lag's step.

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "dsp/spectrum.h"
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
    void fill_difference(std::span<const float> x) noexcept;

    double rate_hz_;
    F0Range range_;
    std::size_t n_;
    std::size_t lag_count_;  // half-sample lags
    RealFft forward_;
    RealFft inverse_;
    std::vector<float> padded_, spectrum_, fine_spectrum_, correlation_;
    std::vector<double> difference_;  // d' at lags of half a sample
    std::vector<double> energy_;      // running sums of x^2
};

}  // namespace holdwell
