#pragma once
// Smoothed cepstral peak prominence (CPPS): how far a voice's regularity stands out of its
// cepstrum.
//
// In:    hops of mono samples.
// Out:   one value in dB every second hop (20 ms), once the window has filled.
// Delay: half the window, and one value.
// State: a fixed size, allocated by the constructor; push allocates nothing.
//
// Every 20 ms, of a Hamming window of 36 .. 72 ms (2048 samples at 44.1 and 48 kHz):
//   s(k)  = 10 log10 |X(k)|^2                  level spectrum, dB
//   c(q)  = |DFT of s|^2                       cepstrum, over quefrency q
//   c'(q) = mean of c over the last three values in time and 1 ms in quefrency
//   L(q)  = 10 log10 c'(q)
// and the value is max L(q) over 1.67 .. 16.7 ms (600 .. 60 Hz) minus the regression line of L over
// 1 .. 16.7 ms at the same q.
//
// After J. Hillenbrand, R. A. Cleveland and R. L. Erickson, J. Speech Hear. Res. 37, 769-778, 1994,
// and J. Hillenbrand and R. A. Houde, J. Speech Hear. Res. 39, 311-321, 1996 (both from memory);
// window, steps and smoothing are ours, so figures do not compare with other programs'.

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "dsp/analysis_config.h"
#include "dsp/spectrum.h"

namespace holdwell {

class CepstralPeak {
public:
    explicit CepstralPeak(const AnalysisConfig& config);

    std::optional<double> push(std::span<const float> hop) noexcept;
    void reset() noexcept;

private:
    static constexpr std::size_t kTimeSpan = 3;

    void compute_cepstrum(std::span<float> cepstrum) noexcept;
    void smooth() noexcept;
    double prominence() const noexcept;
    std::size_t bin_at(double quefrency_s) const noexcept;

    SampleRate rate_;
    RealFft fft_;
    std::vector<float> window_;
    std::vector<float> recent_;  // the last size() samples, oldest first
    std::vector<float> scratch_;
    std::vector<float> spectrum_;
    std::array<std::vector<float>, kTimeSpan> cepstra_;
    std::vector<double> smoothed_db_;
    std::size_t hops_{0};
    std::size_t computed_{0};
    std::size_t filled_{0};
};

}  // namespace holdwell
