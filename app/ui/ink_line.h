#pragma once
// The deviation of one hold, laid down as ink: a fixed number of points however long the hold.
//
// In:    one deviation a hop (cents against the target, as sung), with its time since the onset.
// Out:   at most kMostPoints points, evenly spaced in time; a time without voice is a gap.
// State: when the points run out, neighbours are joined two by two and each point stands for twice
//        as long (10 ms at first, 20 ms beyond 10 s, 40 ms beyond 20 s ...).

#include <cstddef>
#include <optional>
#include <vector>

#include "dsp/units.h"

namespace holdwell {

class InkLine {
public:
    static constexpr std::size_t kMostPoints = 1024;

    // Times before the onset or before an earlier time are left out.
    void push(Seconds since_onset, Cents deviation);
    void reset();

    // One per slot of slot_length(), from the onset; empty where no voice was.
    const std::vector<std::optional<Cents>>& slots() const { return slots_; }
    Seconds slot_length() const { return slot_length_; }

private:
    void join_neighbours();

    std::vector<std::optional<Cents>> slots_;
    Seconds slot_length_{10ms};
};

}  // namespace holdwell
