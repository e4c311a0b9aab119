#pragma once
// Low-pass and keep every D-th sample: the lower rate at which f0 is estimated.
//
// In:    samples at the stream's rate, 8 .. 192 kHz.
// Out:   samples at rate / D, D = floor(rate / 8000), so 8 kHz or a little more; flat to 3.5 kHz,
//        what would fold back below 3.5 kHz is at least 50 dB down.
// Delay: half the filter, 1.4 ms (delay() says it exactly); none at D = 1.
// Filter: windowed sinc with a Kaiser window; J. F. Kaiser, "Nonrecursive digital filter design
// using the I0-sinh window function", IEEE ISCAS 1974.

#include <cstddef>
#include <span>
#include <vector>

#include "dsp/units.h"

namespace holdwell {

class Decimator {
public:
    explicit Decimator(SampleRate input_rate);

    std::size_t factor() const noexcept { return factor_; }
    SampleRate output_rate() const noexcept;
    // Of the filter, in input samples.
    SampleCount delay() const noexcept;

    // Writes what x completes to `out`, which has room for x.size() / factor() + 1; the number
    // written. Allocates nothing.
    std::size_t push(std::span<const float> x, std::span<float> out) noexcept;
    void reset() noexcept;

private:
    std::size_t push_block(std::span<const float> x, std::span<float> out) noexcept;

    SampleRate input_rate_;
    std::size_t factor_;
    std::vector<float> taps_;     // padded to whole lanes, newest sample last
    std::vector<float> history_;  // the last taps_.size() samples and a block of new ones
    std::size_t phase_{0};        // samples since the last that was kept
};

}  // namespace holdwell
