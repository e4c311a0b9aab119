#pragma once
// Cycle by cycle through a voice: how long each lasted, how strong it was, how like the ones
// before.
//
// In:    hops of mono samples, and f0 of each hop from the frame chain (right to 10 %).
// Out:   every completed cycle, once.
// Delay: two to three cycles.
// State: 0.2 s of samples, allocated by the constructor; push allocates nothing.
//
// Waveform matching: the next mark lies where a Hann-weighted stretch of half a period about the
// last one fits best (normalised cross-correlation, parabola through its three highest values). The
// first mark is set where the energy of a period is concentrated, just after the closing of the
// glottis: there a waveform belongs to its own cycle most, and so does the time that is read from
// it. Matching periods: I. R. Titze and H. Liang, "Comparison of F0 extraction methods for
// high-precision voice perturbation measurements", J. Speech Hear. Res. 36, 1120-1133, 1993 (from
// memory).

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "dsp/analysis_config.h"

namespace holdwell {

// How far two periods agree: the ratio of these is their correlation. Sums, so that they can be
// added up over many cycles before they are divided.
struct Likeness {
    double product{};  // of one with the other
    double energy{};   // mean of both
};

struct Cycle {
    double period{};     // samples, to about 0.02
    double amplitude{};  // RMS times a constant, of the time from mark to mark, any scale
    // Of the whole period with the one about 15 ms before; absent for the first cycles after a mark
    // was set anew.
    std::optional<Likeness> likeness{};
    bool follows{false};  // directly on the cycle reported before
};

class CycleReader {
public:
    explicit CycleReader(const AnalysisConfig& config);

    // Call next() until it gives nothing. Without f0 the thread of cycles is lost.
    void push(std::span<const float> hop, std::optional<Hertz> f0) noexcept;
    std::optional<Cycle> next() noexcept;
    void reset() noexcept;

private:
    static constexpr std::size_t kMarks = 20;  // kept: 15 ms of 1100 Hz and more

    // A place in samples_, whole and between.
    struct Match {
        double lag{};
        double correlation{};
    };

    void append(std::span<const float> hop) noexcept;
    bool set_first_mark() noexcept;
    void take_stretch(double mark) noexcept;
    void set_weights(std::size_t length) noexcept;
    std::optional<Match> match_stretch(double mark) const noexcept;
    std::optional<Likeness> likeness_of_last_period() const noexcept;
    std::optional<Likeness> likeness_at(double mark, double lag) const noexcept;
    double energy_about(double place, double width) const noexcept;

    SampleRate rate_;
    std::vector<float> samples_;
    std::size_t filled_{0};
    double before_raw_{0.0};
    double before_{0.0};
    double pole_;

    double period_{0.0};                  // from f0; 0 without
    std::array<double, kMarks> marks_{};  // newest last in a ring, in samples_
    std::size_t marked_{0};
    std::vector<float> stretch_;  // weighted samples about the newest mark
    std::vector<float> weights_;
    std::size_t weighted_{0};        // samples that weights_ is for
    std::size_t stretch_length_{0};  // padded
    bool joined_{false};
};

}  // namespace holdwell
