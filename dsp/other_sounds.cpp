#include "dsp/other_sounds.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace holdwell {

namespace {

constexpr Seconds kWindow{0.115};
constexpr std::size_t kLookEvery = 4;  // hops
constexpr Hertz kLowest{100.0};
constexpr Hertz kHighest{3000.0};
constexpr double kBelowStrongest = 0.01;  // 20 dB
constexpr double kMissing = 0.001;        // 30 dB below the strongest
constexpr double kOverNeighbours = 16.0;  // 12 dB
constexpr double kOverRoom = 4.0;         // 6 dB
constexpr std::size_t kNeighbours = 15;   // bins to each side
constexpr float kRoomPace = 0.2f;
constexpr Semitones kSteady{0.5};
constexpr int kLeastLooks = 8;
constexpr double kShare = 1.0 / 3.0;
// How far off its place a line of the voice may seem: part of a bin, and the uncertainty of f0.
constexpr double kBins = 0.8;
constexpr double kOfF0 = 0.012;

std::size_t fft_size_for(SampleRate rate)
{
    std::size_t size = 256;
    while (static_cast<double>(size) < kWindow.count() * rate.hz) size *= 2;
    return size;
}

std::vector<float> hann(std::size_t n)
{
    std::vector<float> w(n);
    for (std::size_t i = 0; i < n; ++i) {
        const double phase = 2.0 * std::numbers::pi * (static_cast<double>(i) + 0.5);
        w[i] = static_cast<float>(0.5 - 0.5 * std::cos(phase / static_cast<double>(n)));
    }
    return w;
}

// The power of the strongest line at this multiple of f0.
double power_at(std::span<const Line> lines, Hertz f, double within)
{
    double power = 0.0;
    for (const Line& line : lines) {
        if (std::abs(line.at.value - f.value) <= within) power = std::max(power, line.power);
    }
    return power;
}

}  // namespace

bool are_of_several(std::span<const Line> lines, Hertz f0, Hertz resolution)
{
    double strongest = 0.0;
    for (const Line& line : lines) strongest = std::max(strongest, line.power);
    int strangers = 0, half_way = 0;
    for (const Line& line : lines) {
        if (line.power < kBelowStrongest * strongest) continue;
        const double multiple = line.at.value / f0.value;
        const double halves = std::round(2.0 * multiple) / 2.0;
        const double off = std::abs(multiple - halves) * f0.value;
        if (off > kBins * resolution.value + kOfF0 * line.at.value) {
            ++strangers;
        } else if (halves != std::round(halves)) {
            ++half_way;
        }
    }
    if (strangers >= 2) return true;

    const double within = kBins * resolution.value + kOfF0 * 3.0 * f0.value;
    const auto is_missing = [&](int multiple) {
        return power_at(lines, {multiple * f0.value}, within) < kMissing * strongest;
    };
    return strongest > 0.0 && is_missing(1) && (is_missing(2) || is_missing(3) || half_way > 0);
}

OtherSounds::OtherSounds(const AnalysisConfig& config)
    : decimator_{config.sample_rate}, fft_{fft_size_for(decimator_.output_rate())},
      decimated_(static_cast<std::size_t>(hop_length(config).value) / decimator_.factor() + 1),
      recent_(fft_.size()), window_{hann(fft_.size())}, windowed_(fft_.size()),
      spectrum_(fft_.size()), power_(fft_.size() / 2 + 1), room_(fft_.size() / 2 + 1)
{
}

bool OtherSounds::heard() const noexcept
{
    return looked_at_ >= kLeastLooks && with_company_ >= kShare * looked_at_;
}

void OtherSounds::push(std::span<const float> hop, const FrameReading& reading) noexcept
{
    const std::size_t n = decimator_.push(hop, decimated_);
    std::shift_left(recent_.begin(), recent_.end(), static_cast<std::ptrdiff_t>(n));
    std::transform(decimated_.begin(), decimated_.begin() + static_cast<std::ptrdiff_t>(n),
                   recent_.end() - static_cast<std::ptrdiff_t>(n),
                   [](float x) { return std::isfinite(x) ? x : 0.0f; });
    f0s_[hops_ % kF0s] = reading.f0 ? reading.f0->value : 0.0;
    if (++hops_ % kLookEvery != 0) return;
    const bool nothing = std::all_of(f0s_.begin(), f0s_.end(), [](double f) { return f == 0.0; });
    const auto f0 = steady_f0();
    if (!nothing && !f0) return;
    transform();
    if (nothing) return learn_room();
    const Hertz bin{decimator_.output_rate().hz / static_cast<double>(fft_.size())};
    ++looked_at_;
    if (are_of_several(find_lines(), *f0, bin)) ++with_company_;
}

// Over the whole window, if it moved so little that its lines are not blurred.
std::optional<Hertz> OtherSounds::steady_f0() const noexcept
{
    const auto [low, high] = std::minmax_element(f0s_.begin(), f0s_.end());
    if (*low == 0.0 || semitones_between({*low}, {*high}) > kSteady) return std::nullopt;
    double sum = 0.0;
    for (const double f : f0s_) sum += f;
    return Hertz{sum / static_cast<double>(kF0s)};
}

void OtherSounds::transform() noexcept
{
    for (std::size_t i = 0; i < recent_.size(); ++i) windowed_[i] = window_[i] * recent_[i];
    fft_.forward(windowed_, spectrum_);
    for (std::size_t k = 0; k < power_.size(); ++k) power_[k] = power_of_bin(spectrum_, k);
}

void OtherSounds::learn_room() noexcept
{
    for (std::size_t k = 0; k < room_.size(); ++k) room_[k] += kRoomPace * (power_[k] - room_[k]);
}

double OtherSounds::median_about(std::size_t bin) const noexcept
{
    std::array<float, 2 * kNeighbours + 1> around{};
    std::size_t n = 0;
    const std::size_t from = bin > kNeighbours ? bin - kNeighbours : 1;
    for (std::size_t k = from; k <= bin + kNeighbours && k < power_.size(); ++k)
        around[n++] = power_[k];
    const auto middle = around.begin() + static_cast<std::ptrdiff_t>(n / 2);
    std::nth_element(around.begin(), middle, around.begin() + static_cast<std::ptrdiff_t>(n));
    return *middle;
}

std::span<const Line> OtherSounds::find_lines() noexcept
{
    const double bin_hz = decimator_.output_rate().hz / static_cast<double>(fft_.size());
    const auto first = static_cast<std::size_t>(std::max(2.0, kLowest.value / bin_hz));
    const auto last =
        std::min(power_.size() - 2, static_cast<std::size_t>(kHighest.value / bin_hz));
    std::size_t n = 0;
    for (std::size_t k = first; k <= last && n < kMostLines; ++k) {
        const double here = power_[k];
        if (here < power_[k - 1] || here < power_[k + 1]) continue;
        const double in_room = std::max({room_[k - 1], room_[k], room_[k + 1]});
        if (here < kOverRoom * in_room || here < kOverNeighbours * median_about(k)) continue;
        // The top of a parabola through three decibel values (common practice, no source).
        const double a = std::log(power_[k - 1] + 1e-30), b = std::log(here + 1e-30),
                     c = std::log(power_[k + 1] + 1e-30);
        const double curve = a - 2.0 * b + c;
        const double shift = curve < 0.0 ? 0.5 * (a - c) / curve : 0.0;
        lines_[n++] = {{(static_cast<double>(k) + shift) * bin_hz}, here};
    }
    return {lines_.data(), n};
}

}  // namespace holdwell
