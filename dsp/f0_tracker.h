#pragma once
// Which candidate is the voice's f0: continuity over frames, octave decisions, voiced or not.
//
// In:    a frame's candidates with their costs, frame by frame.
// Out:   the candidate at the end of the cheapest path so far, or "not voiced". No look-ahead.
// How:   the forward half of the Viterbi algorithm (A. J. Viterbi, IEEE Trans. Inf. Theory 13(2),
//        260-269, 1967) over candidates and one unvoiced state. A path pays its frames' costs and
//        for moving in log frequency; older costs fade, so that an old mistake cannot outvote the
//        present.

#include <array>
#include <cstddef>
#include <optional>

#include "dsp/units.h"

namespace holdwell {

struct CostedCandidate {
    Hertz f0{};
    double cost{0.0};
};

struct TrackerSettings {
    double free_octaves{0.02};     // movement in one hop that costs nothing: 2 octaves a second
    double price_per_octave{2.0};  // of movement beyond it
    double dearest_move{2.0};      // a jump costs no more than this
    double price_of_change{0.25};  // between voiced and unvoiced
    double memory{0.95};           // share of a cost that is left one hop later
};

class F0Tracker {
public:
    static constexpr std::size_t kMost = 8;

    explicit F0Tracker(const TrackerSettings& settings) : settings_{settings} {}

    struct Decision {
        std::optional<std::size_t> best;  // the best candidate, voiced or not; nothing without any
        bool voiced{false};               // that the best path ends in it
    };
    // count <= kMost.
    Decision push(const CostedCandidate* candidates, std::size_t count,
                  double unvoiced_cost) noexcept;
    void reset() noexcept;

private:
    TrackerSettings settings_;
    std::array<CostedCandidate, kMost> last_{};  // cost: of the cheapest path that ends there
    std::size_t last_count_{0};
    double last_unvoiced_{0.0};
};

}  // namespace holdwell
