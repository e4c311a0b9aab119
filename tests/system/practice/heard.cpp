#include "tests/system/practice/heard.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>

namespace holdwell::test {

namespace {

double mean_square(std::span<const float> samples)
{
    double sum = 0.0;
    for (const float v : samples) sum += static_cast<double>(v) * static_cast<double>(v);
    return samples.empty() ? 0.0 : sum / static_cast<double>(samples.size());
}

// Over a window of 50 ms under a Hann window: other harmonics are far outside it.
std::complex<double> demodulated(std::span<const float> samples, SampleRate rate, double hz,
                                 std::size_t at)
{
    const auto length = static_cast<std::size_t>(0.05 * rate.hz);
    std::complex<double> sum{0.0, 0.0};
    for (std::size_t i = 0; i < length; ++i) {
        const double turn = 2.0 * std::numbers::pi;
        const double weight =
            0.5 - 0.5 * std::cos(turn * static_cast<double>(i) / static_cast<double>(length));
        const double phase = -turn * hz * static_cast<double>(at + i) / rate.hz;
        sum += weight * static_cast<double>(samples[at + i]) * std::polar(1.0, phase);
    }
    return sum;
}

}  // namespace

std::vector<Stretch> stretches_in(std::span<const float> samples, SampleRate rate)
{
    const auto hop = static_cast<std::size_t>(0.01 * rate.hz);
    std::vector<double> levels;
    for (std::size_t at = 0; at + hop <= samples.size(); at += hop)
        levels.push_back(mean_square(samples.subspan(at, hop)));
    if (levels.empty()) return {};
    const double least = std::ranges::max(levels) / 100.0;  // 20 dB
    std::vector<Stretch> found;
    for (std::size_t i = 0; i < levels.size(); ++i) {
        if (levels[i] < least || !(least > 0.0)) continue;
        const SampleIndex begin{static_cast<std::int64_t>(i * hop)};
        const SampleIndex end{static_cast<std::int64_t>((i + 1) * hop)};
        if (!found.empty() && duration_of(begin - found.back().end, rate) < Seconds{0.3})
            found.back().end = end;
        else
            found.push_back({begin, end});
    }
    return found;
}

bool holds_whole(std::span<const float> heard, std::span<const float> played)
{
    return !std::ranges::search(heard, played).empty();
}

double loudness_of(std::span<const float> samples)
{
    return std::sqrt(mean_square(samples.subspan(samples.size() / 4, samples.size() / 2)));
}

Hertz fundamental_of(std::span<const float> samples, SampleRate rate, Hertz expected)
{
    const auto hop = static_cast<std::size_t>(0.01 * rate.hz);
    const std::size_t first = samples.size() / 5;
    const std::size_t last = samples.size() * 4 / 5;
    double phase = 0.0;
    std::complex<double> before = demodulated(samples, rate, expected.value, first);
    std::size_t at = first;
    for (std::size_t next = first + hop; next < last; next += hop) {
        const std::complex<double> now = demodulated(samples, rate, expected.value, next);
        phase += std::arg(now * std::conj(before));
        before = now;
        at = next;
    }
    const double seconds = static_cast<double>(at - first) / rate.hz;
    return {expected.value + phase / (2.0 * std::numbers::pi * seconds)};
}

}  // namespace holdwell::test
