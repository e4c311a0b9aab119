#include "tests/system/capture/one_rate.h"

#include <dlfcn.h>
#include <portaudio.h>

#include <atomic>

namespace {

std::atomic<double> only_hz{0.0};  // 0: any

}  // namespace

// Stands before PortAudio's own, and calls it. Eight parameters: PortAudio's.
// NOLINTNEXTLINE(readability-function-size)
extern "C" PaError Pa_OpenStream(PaStream** stream, const PaStreamParameters* input,
                                 const PaStreamParameters* output, double rate,
                                 unsigned long frames, PaStreamFlags flags,
                                 PaStreamCallback* callback, void* user)
{
    if (only_hz > 0.0 && rate != only_hz) return paInvalidSampleRate;
    static auto* const open =
        reinterpret_cast<decltype(&Pa_OpenStream)>(dlsym(RTLD_NEXT, "Pa_OpenStream"));
    return open(stream, input, output, rate, frames, flags, callback, user);
}

namespace holdwell::test {

OnlyRate::OnlyRate(SampleRate rate) { only_hz = rate.hz; }

OnlyRate::~OnlyRate() { only_hz = 0.0; }

}  // namespace holdwell::test
