#pragma once
// The true phase of a voice, from which its f0 at any time follows exactly.
//
// Cycles counted at an even grid of instants. f0 is the mean over `span` about the time asked for
// (shortened at the edges): the number of cycles in that span divided by the span. Over 40 ms it
// is, for a voice with jitter, the local mean that a frame of that length can know; for a constant
// f0 it is that f0 to double precision whatever the span.

#include <optional>
#include <vector>

#include "dsp/units.h"

namespace holdwell::test {

class PhaseTrack {
public:
    PhaseTrack(SampleIndex begin, SampleRate rate) : begin_{begin}, rate_{rate} {}

    void append_sample(double cycles_so_far)
    {
        if (count_++ % kStep == 0) cycles_.push_back(cycles_so_far);
    }

    // Absent before the first and after the last cycle.
    std::optional<Hertz> f0_at(Seconds t, Seconds span) const;

    void shift(SampleCount by) { begin_ = begin_ + by; }

private:
    static constexpr int kStep = 16;  // samples between grid points: exact enough, and small
    double cycles_at(double grid_place) const;

    SampleIndex begin_;
    SampleRate rate_;
    std::int64_t count_{0};
    std::vector<double> cycles_;
};

}  // namespace holdwell::test
