#pragma once
// A computer whose devices take one sample rate only. A sound server converts any rate, so that the
// program's first choice would always do: in a program that links this file PortAudio refuses every
// other rate as it does for such a device.

#include "dsp/units.h"

namespace holdwell::test {

class OnlyRate {
public:
    explicit OnlyRate(SampleRate rate);
    ~OnlyRate();
    OnlyRate(const OnlyRate&) = delete;
    OnlyRate& operator=(const OnlyRate&) = delete;
};

}  // namespace holdwell::test
