#pragma once
// A-weighted level, for describing the room alone: how loud its noise is to a listener.
//
// In:    mono samples at one of aubio's rates, -1 .. +1, in blocks of any size.
// Out:   the mean square of each block, A-weighted; 0 dB at 1 kHz.
// Delay: none; settled 100 ms after the first sample (the lowest poles lie at 20.6 Hz).
// Source: IEC 61672-1:2013, annex E; aubio has the digital filters, by the bilinear transform, so
// that above 8 kHz they fall sooner than the curve: at 16 kHz by 6 dB at a rate of 44.1 kHz, which
// class 1 allows (tests/dsp/a_weighting_test.cpp).
// Never for the voice: it would take 16 dB off C3 and 6 dB off F4 (dsp/level.h).
// NaN and infinite samples are read as silence.

#include <memory>
#include <optional>
#include <span>

#include "dsp/units.h"

namespace holdwell {

class AWeighting {
public:
    // Absent at a rate for which there is no filter.
    static std::optional<AWeighting> at(SampleRate rate);
    ~AWeighting();
    AWeighting(AWeighting&&) noexcept;
    AWeighting& operator=(AWeighting&&) noexcept;

    // Mean square of the weighted block; 0 for an empty one. Allocates nothing. [any]
    double push(std::span<const float> samples) noexcept;

private:
    struct Filter;
    explicit AWeighting(std::unique_ptr<Filter> filter);
    std::unique_ptr<Filter> filter_;
};

}  // namespace holdwell
