#pragma once
// Which period a frame has, told from its multiples and parts, and whether it has one at all.
//
// In:    one low-passed frame a hop, as heard and with its noise made white (noise_colour.h).
// Out:   the f0 at the end of the cheapest path over time, within about 1 %, and whether that path
//        is voiced.
// How:   1. minima of the difference function of both frames (difference_function.h): in the one
//           the strongest harmonic may hide the period, in the other the noise;
//        2. a fit of harmonics to the whitened frame for each (harmonic_fit.h). The cost is the log
//           of what the fit leaves over, plus a price that grows with the period, for twice the
//           period has twice the lines and explains that much more by chance, plus a price for
//           lines that are missing between multiples (line_pattern.h), as they were before
//           whitening. By chance a line explains a voice's unevenness better than noise: the price
//           is the lower, the more the best fit leaves over;
//        3. all costs are shifted by what the cheapest costs in the frame as heard, which is what
//           "not voiced" is weighed against. Where that is no voice as heard, but another candidate
//           is, in a frame that stands clear of the room, the voice itself was learnt as noise:
//           then all costs are those of the frame as heard;
//        4. the cheapest path (f0_tracker.h).
//        Where a frame is so near to the room that "not voiced" costs less than a perfect fit, and
//        no voice is under way, there is nothing to choose and 1 to 3 are left out.
// State: scratch of a fixed size; nothing is allocated after construction.

#include <array>
#include <cstddef>
#include <optional>
#include <span>

#include "dsp/difference_function.h"
#include "dsp/f0_tracker.h"
#include "dsp/harmonic_fit.h"
#include "dsp/noise_colour.h"
#include "dsp/units.h"

namespace holdwell {

class PeriodChoice {
public:
    // `shape`: of the window, as for HarmonicFit.
    PeriodChoice(SampleRate rate, std::size_t frame_length, F0Range range, double shape);

    struct Choice {
        std::optional<Hertz> f0;  // the best guess, voiced or not; absent without any periodicity
        bool voiced{false};
    };
    // `colour` has whitened the frame. `over_room`: the frame's level over the noise floor, which
    // weighs against voice when it is small.
    Choice push(const FramePair& frame, const NoiseColour& colour, Decibels over_room) noexcept;
    void reset() noexcept;

private:
    static constexpr std::size_t kFromEach = 3;  // minima of either frame
    static_assert(2 * kFromEach <= F0Tracker::kMost);

    // What candidates are weighed against.
    struct NotVoiced {
        double cost;
        Decibels over_room;
    };
    // What a fit says against a candidate before its period is priced.
    struct Fault {
        double residual;  // share of the frame's energy left over
        double cost;
    };

    void add_candidates(std::span<const float> x) noexcept;
    Fault fault_of(Hertz f0, const NoiseColour& colour) noexcept;
    void cost_candidates(const NoiseColour& colour) noexcept;
    double cost_as_heard(Hertz f0) noexcept;
    void judge_as_heard(CostedCandidate cheapest, const NotVoiced& not_voiced) noexcept;
    void find_candidates(const FramePair& frame, const NoiseColour& colour,
                         const NotVoiced& not_voiced) noexcept;

    SampleRate rate_;
    DifferenceFunction difference_;
    HarmonicFit fit_;
    F0Tracker tracker_;
    std::array<CostedCandidate, 2 * kFromEach> candidates_{};
    std::size_t count_{0};
    bool voiced_{false};  // the last frame
};

}  // namespace holdwell
