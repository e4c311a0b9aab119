#pragma once
// The command line run inside the test, and recordings to run it on.

#include <cmath>
#include <numbers>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "app/cli/command_line.h"
#include "app/files/recording.h"

namespace holdwell::test {

struct Ran {
    ExitStatus status{};
    std::string out;
    std::string err;
};

inline Ran run(const std::vector<std::string>& words, const Surroundings& surroundings = {})
{
    std::ostringstream out;
    std::ostringstream err;
    const Console console{.out = out, .err = err, .err_is_terminal = false};
    const ExitStatus status = run_command_line(words, console, surroundings);
    return {status, out.str(), err.str()};
}

// A note with its silences: one second before it, one after; ten harmonics falling by 6 dB an
// octave, 60 ms of raised cosine at both ends, over white noise 60 dB below the note.
struct NoteScript {
    Hertz f0{349.228};  // F4
    Seconds length{3.0};
    SampleRate rate{48'000.0};
    Cents wander{0.0};  // to each side, 1.3 times a second: no throat is without
};

inline Recording note(const NoteScript& script)
{
    constexpr double kRise = 0.060;
    constexpr double kWanders = 2.0 * std::numbers::pi * 1.3;
    const double depth = std::numbers::ln2 * script.wander.value / 1200.0;
    std::mt19937 random{1};
    std::normal_distribution<double> noise{0.0, 1e-4};
    Recording recording{.samples = {}, .sample_rate = script.rate};
    const auto count = samples_in(script.length + 2s, script.rate).value;
    for (std::int64_t i = 0; i < count; ++i) {
        const double t = static_cast<double>(i) / script.rate.hz - 1.0;
        const double edge = std::min(t, script.length.count() - t) / kRise;
        const double gain =
            edge <= 0.0 ? 0.0 : 0.5 - 0.5 * std::cos(std::numbers::pi * std::min(edge, 1.0));
        const double sung = t + depth * (1.0 - std::cos(kWanders * t)) / kWanders;
        double sum = 0.0;
        for (int h = 1; h <= 10 && h * script.f0.value < script.rate.hz / 2.0; ++h)
            sum += std::sin(2.0 * std::numbers::pi * h * script.f0.value * sung) / h;
        recording.samples.push_back(static_cast<float>(0.1 * gain * sum + noise(random)));
    }
    return recording;
}

}  // namespace holdwell::test
