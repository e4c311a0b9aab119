#include "dsp/other_sounds.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dsp/vector_sums.h"

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

// Of lines out of step.
constexpr Seconds kLag{30ms};     // the middle of the window of f0 lies 20 ms back
constexpr Semitones kMoves{2.5};  // within the window: the widest vibrato
constexpr double kUneven = 0.1;   // what is left of the movement of f0
constexpr Cents kOutOfStep{6.0};
// Of the movement of f0 in the window; formants delay the partials that they lift, by 8 ms at most.
constexpr double kDelayed = 0.1;
// Shares of looks, and falls of the end; chosen on generated voices. Of one voice the shares were
// 0.15 and 0.12 at most in 260 without echo; with echo 3 of 100 others went beyond.
constexpr Seconds kAbrupt{75ms}, kShort{105ms};  // hops are 10 ms
constexpr double kShareOutOfStep = 0.21;
constexpr double kShareShared = 0.18;
constexpr double kShareSharedInEcho = 0.34;

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

// The upper one of the two where their number is even.
double median_of(std::span<const float> powers)
{
    std::array<float, 2 * kNeighbours + 1> sorted{};
    const auto end = std::ranges::copy(powers, sorted.begin()).out;
    const auto middle = sorted.begin() + static_cast<std::ptrdiff_t>(powers.size() / 2);
    std::nth_element(sorted.begin(), middle, end);
    return *middle;
}

// Whether median_of() is above a limit; many times quicker than to find it.
HOLDWELL_WIDE bool median_exceeds(std::span<const float> powers, double limit)
{
    std::size_t above = 0;
    for (const float power : powers) above += static_cast<double>(power) > limit ? 1 : 0;
    return above >= powers.size() - powers.size() / 2;
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

std::optional<Seconds> fall_of(std::span<const float> levels, std::size_t voiced)
{
    // Hops: the settled voice, and where its end is looked for.
    constexpr std::size_t kFrom = 60, kTo = 10, kEnd = 40;
    constexpr float kStillFull = 5.0f, kGone = 25.0f;  // dB
    constexpr Seconds kHop{10ms};
    if (voiced < kFrom) return std::nullopt;
    std::array<float, kFrom - kTo> settled{};
    std::copy_n(levels.begin() + static_cast<std::ptrdiff_t>(voiced - kFrom), settled.size(),
                settled.begin());
    const auto middle = settled.begin() + settled.size() / 2;
    std::nth_element(settled.begin(), middle, settled.end());
    std::size_t full = voiced - kEnd;
    for (std::size_t i = full; i < levels.size(); ++i) {
        if (levels[i] >= *middle - kStillFull) full = i;
    }
    for (std::size_t i = full; i < levels.size(); ++i) {
        if (levels[i] <= *middle - kGone) return static_cast<double>(i - full) * kHop;
    }
    return std::nullopt;
}

OtherSounds::OtherSounds(const AnalysisConfig& config)
    : decimator_{config.sample_rate}, fft_{fft_size_for(decimator_.output_rate())},
      lag_{static_cast<std::size_t>(kLag.count() * decimator_.output_rate().hz)},
      decimated_(static_cast<std::size_t>(hop_length(config).value) / decimator_.factor() + 1),
      recent_(fft_.size() + lag_), window_{hann(fft_.size())}, windowed_(fft_.size()),
      spectrum_(fft_.size()), even_(fft_.size()), cycles_(fft_.size()), power_(fft_.size() / 2 + 1),
      room_(fft_.size() / 2 + 1)
{
}

bool OtherSounds::heard() const noexcept
{
    const auto share_is = [](int some, const Looks& looks, double share) {
        return looks.all >= kLeastLooks && some >= share * looks.all;
    };
    if (share_is(looks_.with_company, looks_, kShare)) return true;
    const auto falls = fall();
    if (falls && *falls <= kAbrupt && share_is(steps_.with_company, steps_, kShareOutOfStep))
        return true;
    const bool is_short = falls && *falls <= kShort;
    return share_is(steps_.shared, steps_, is_short ? kShareShared : kShareSharedInEcho);
}

void OtherSounds::push(std::span<const float> hop, const FrameReading& reading) noexcept
{
    const std::size_t n = decimator_.push(hop, decimated_);
    std::shift_left(recent_.begin(), recent_.end(), static_cast<std::ptrdiff_t>(n));
    std::transform(decimated_.begin(), decimated_.begin() + static_cast<std::ptrdiff_t>(n),
                   recent_.end() - static_cast<std::ptrdiff_t>(n),
                   [](float x) { return std::isfinite(x) ? x : 0.0f; });
    std::shift_left(f0s_.begin(), f0s_.end(), 1);
    f0s_.back() = reading.f0 ? reading.f0->value : 0.0;
    keep_level(reading);
    if (++hops_ % kLookEvery == 0) look(reading, {static_cast<std::int64_t>(hop.size())});
}

void OtherSounds::look(const FrameReading& reading, SampleCount hop) noexcept
{
    const std::span<const float> newest = std::span{recent_}.last(fft_.size());
    const auto recent_f0s = std::span{f0s_}.last(kF0s);
    if (std::ranges::all_of(recent_f0s, [](double f) { return f == 0.0; })) {
        transform(newest);
        return learn_room();
    }
    if (const auto f0 = steady_f0()) {
        transform(newest);
        ++looks_.all;
        if (are_of_several(find_lines(), *f0, resolution())) ++looks_.with_company;
    }
    look_at_steps(reading, hop);
}

void OtherSounds::look_at_steps(const FrameReading& reading, SampleCount hop) noexcept
{
    const auto [low, high] = std::minmax_element(f0s_.begin(), f0s_.end());
    if (*low == 0.0 || semitones_between({*low}, {*high}) > kMoves) return;
    // Everything below is counted in decimated samples from the first of the window.
    const auto factor = static_cast<double>(decimator_.factor());
    const double step = static_cast<double>(hop.value) / factor;
    const SampleIndex newest = reading.hop_begin + hop;
    const double back = static_cast<double>((newest - reading.centre).value) / factor -
                        static_cast<double>(decimator_.delay().value) / factor;
    const double last = static_cast<double>(recent_.size()) - back;
    const F0Course course{
        .hz = f0s_, .first = last - step * static_cast<double>(f0s_.size() - 1), .step = step};
    const Hertz f0 = make_pitch_even(std::span{recent_}.first(fft_.size()), course,
                                     decimator_.output_rate(), {even_, cycles_});
    transform(even_);
    const StepLimits limits{.resolution = resolution(), .uncertainty = {kUneven * (*high - *low)}};
    const auto steps = steps_of(find_lines(), f0, limits);
    if (!steps) return;
    ++steps_.all;
    const Cents movement = interval_between({*low}, {*high});
    const Cents allowed{kOutOfStep.value + kDelayed * movement.value};
    if (steps->farthest > allowed) ++steps_.with_company;
    if (steps->shared > allowed) ++steps_.shared;
}

void OtherSounds::keep_level(const FrameReading& reading) noexcept
{
    levels_[hops_ % kLevels] = static_cast<float>(reading.hop_level.value);
    if (is_voice(reading.phonation)) last_voiced_ = hops_;
}

std::optional<Seconds> OtherSounds::fall() const noexcept
{
    const std::size_t known = std::min(hops_, kLevels);
    const std::size_t since = hops_ - 1 - last_voiced_;
    if (hops_ == 0 || since >= known) return std::nullopt;
    std::array<float, kLevels> in_order{};
    for (std::size_t i = 0; i < known; ++i) in_order[i] = levels_[(hops_ - known + i) % kLevels];
    return fall_of({in_order.data(), known}, known - since);
}

Hertz OtherSounds::resolution() const noexcept
{
    return {decimator_.output_rate().hz / static_cast<double>(fft_.size())};
}

// Over the whole window, if it moved so little that its lines are not blurred.
std::optional<Hertz> OtherSounds::steady_f0() const noexcept
{
    const auto recent = std::span{f0s_}.last(kF0s);
    const auto [low, high] = std::minmax_element(recent.begin(), recent.end());
    if (*low == 0.0 || semitones_between({*low}, {*high}) > kSteady) return std::nullopt;
    double sum = 0.0;
    for (const double f : recent) sum += f;
    return Hertz{sum / static_cast<double>(kF0s)};
}

void OtherSounds::transform(std::span<const float> samples) noexcept
{
    for (std::size_t i = 0; i < samples.size(); ++i) windowed_[i] = window_[i] * samples[i];
    fft_.forward(windowed_, spectrum_);
    for (std::size_t k = 0; k < power_.size(); ++k) power_[k] = power_of_bin(spectrum_, k);
}

void OtherSounds::learn_room() noexcept
{
    for (std::size_t k = 0; k < room_.size(); ++k) room_[k] += kRoomPace * (power_[k] - room_[k]);
}

std::span<const float> OtherSounds::neighbours_of(std::size_t bin) const noexcept
{
    const std::size_t from = bin > kNeighbours ? bin - kNeighbours : 1;
    const std::size_t end = std::min(bin + kNeighbours + 1, power_.size());
    return std::span{power_}.subspan(from, end - from);
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
        if (here < kOverRoom * in_room) continue;
        const std::span<const float> neighbours = neighbours_of(k);
        if (median_exceeds(neighbours, here / kOverNeighbours)) continue;
        const double about = median_of(neighbours);
        // The top of a parabola through three decibel values (common practice, no source).
        const double a = std::log(power_[k - 1] + 1e-30), b = std::log(here + 1e-30),
                     c = std::log(power_[k + 1] + 1e-30);
        const double curve = a - 2.0 * b + c;
        const double shift = curve < 0.0 ? 0.5 * (a - c) / curve : 0.0;
        lines_[n++] = {{(static_cast<double>(k) + shift) * bin_hz}, here, std::max(about, in_room)};
    }
    return {lines_.data(), n};
}

}  // namespace holdwell
