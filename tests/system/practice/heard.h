#pragma once
// What a recording holds, looked at without any of the program's own listening: where something
// sounds, how loud it is, and the frequency of its fundamental.

#include <span>
#include <vector>

#include "dsp/units.h"

namespace holdwell::test {

struct Stretch {
    SampleIndex begin;
    SampleIndex end;
};

// Where the level (10 ms, root mean square) is within 20 dB of the loudest, gaps shorter than 0.3 s
// included.
std::vector<Stretch> stretches_in(std::span<const float> samples, SampleRate rate);

// Whether all that was played is in it, sample for sample.
bool holds_whole(std::span<const float> heard, std::span<const float> played);

// Root mean square of the middle half.
double loudness_of(std::span<const float> samples);

// Near `expected` (a few percent): the slope of the phase of the fundamental, demodulated at
// `expected`, over the middle of what sounds.
Hertz fundamental_of(std::span<const float> samples, SampleRate rate, Hertz expected);

}  // namespace holdwell::test
