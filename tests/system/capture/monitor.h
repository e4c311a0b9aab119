#pragma once
// What the loudspeaker of a SoundServer gives, sample for sample: silence is exactly zero.

#include <cstring>
#include <filesystem>
#include <string>
#include <vector>

#include "tests/system/window/display.h"

namespace holdwell::test {

// Everything that sounds, recorded beside the program while it lives.
class Monitor {
public:
    explicit Monitor(std::filesystem::path file)
        : file_{std::move(file)}, recorder_{{"parec", "--device=testsink.monitor", "--rate=48000",
                                             "--channels=1", "--format=float32le", "--raw",
                                             "--latency-msec=50"},
                                            file_,
                                            {}}
    {
    }
    std::vector<float> samples() const
    {
        const std::string bytes = text_of(file_);
        std::vector<float> samples(bytes.size() / sizeof(float));
        std::memcpy(samples.data(), bytes.data(), samples.size() * sizeof(float));
        return samples;
    }

private:
    std::filesystem::path file_;
    Process recorder_;
};

}  // namespace holdwell::test
