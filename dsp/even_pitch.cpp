#include "dsp/even_pitch.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace holdwell {

namespace {

// Between x[i] and x[i + 1].
double cubic_at(std::span<const float> x, std::size_t i, double share)
{
    const double a = x[i > 0 ? i - 1 : 0], b = x[i], c = x[i + 1];
    const double d = x[std::min(i + 2, x.size() - 1)];
    const double bend = 2.0 * a - 5.0 * b + 4.0 * c - d + share * (3.0 * (b - c) + d - a);
    return b + 0.5 * share * (c - a + share * bend);
}

}  // namespace

double F0Course::at(double place) const noexcept
{
    const double steps =
        std::clamp((place - first) / step, 0.0, static_cast<double>(hz.size() - 1));
    const auto i = std::min(static_cast<std::size_t>(steps), hz.size() - 1);
    const std::size_t next = std::min(i + 1, hz.size() - 1);
    return hz[i] + (steps - static_cast<double>(i)) * (hz[next] - hz[i]);
}

Hertz make_pitch_even(std::span<const float> x, const F0Course& course, SampleRate rate,
                      EvenPitchRoom room) noexcept
{
    const std::size_t n = x.size();
    double cycles = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        room.cycles[i] = cycles;
        cycles += course.at(static_cast<double>(i) + 0.5) / rate.hz;
    }
    const double step = room.cycles[n - 1] / static_cast<double>(n - 1);
    std::size_t i = 0;
    for (std::size_t k = 0; k < n; ++k) {
        const double wanted = static_cast<double>(k) * step;
        while (i + 2 < n && room.cycles[i + 1] < wanted) ++i;
        const double share = (wanted - room.cycles[i]) / (room.cycles[i + 1] - room.cycles[i]);
        room.out[k] = static_cast<float>(cubic_at(x, i, share));
    }
    return {step * rate.hz};
}

}  // namespace holdwell
