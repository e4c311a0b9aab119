#include "dsp/decimator.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dsp/vector_sums.h"

namespace holdwell {

namespace {

constexpr double kLowestOutputHz = 8000.0;
constexpr double kKaiserBeta = 4.5;       // about 50 dB of stop band
constexpr Seconds kFilterLength{2.7e-3};  // shortest that has 50 dB at 8 kHz out
constexpr std::size_t kBlock = 256;       // samples that are taken in at once

std::size_t factor_for(SampleRate rate)
{
    return static_cast<std::size_t>(std::max(1.0, std::floor(rate.hz / kLowestOutputHz)));
}

// Modified Bessel function of order zero, the sum of ((x / 2)^k / k!)^2; x up to 5. Not
// std::cyl_bessel_i: that writes a variable of the whole program (signgam), and files are measured
// by several threads at once.
double bessel_i0(double x)
{
    double sum = 1.0;
    double root = 1.0;
    for (int k = 1; k < 25; ++k) {
        root *= x / (2.0 * k);
        sum += root * root;
    }
    return sum;
}

double kaiser(double position)  // -1 .. 1
{
    const double inside = std::max(0.0, 1.0 - position * position);
    return bessel_i0(kKaiserBeta * std::sqrt(inside)) / bessel_i0(kKaiserBeta);
}

std::vector<float> low_pass_taps(SampleRate rate, std::size_t factor)
{
    if (factor == 1) return std::vector<float>(kLanes, 0.0f);
    const auto half = static_cast<int>(std::lround(kFilterLength.count() * rate.hz / 2.0));
    const double output_hz = rate.hz / static_cast<double>(factor);
    // Half-way between what is wanted and what would fold back on it.
    const double cutoff = output_hz / 2.0 / rate.hz;
    std::vector<double> taps;
    for (int i = -half; i <= half; ++i) {
        const double x = 2.0 * std::numbers::pi * cutoff * i;
        const double sinc = i == 0 ? 2.0 * cutoff : std::sin(x) / (std::numbers::pi * i);
        taps.push_back(sinc * kaiser(i / (half + 1.0)));
    }
    double sum = 0.0;
    for (const double t : taps) sum += t;
    std::vector<float> padded_taps(padded(taps.size()), 0.0f);
    const std::size_t lead = padded_taps.size() - taps.size();
    for (std::size_t i = 0; i < taps.size(); ++i) {
        padded_taps[lead + i] = static_cast<float>(taps[i] / sum);
    }
    return padded_taps;
}

}  // namespace

Decimator::Decimator(SampleRate input_rate)
    : input_rate_{input_rate}, factor_{factor_for(input_rate)}, taps_{low_pass_taps(input_rate,
                                                                                    factor_)},
      history_(taps_.size() + kBlock, 0.0f)
{
}

SampleRate Decimator::output_rate() const noexcept
{
    return {input_rate_.hz / static_cast<double>(factor_)};
}

SampleCount Decimator::delay() const noexcept
{
    if (factor_ == 1) return {0};
    return {std::llround(kFilterLength.count() * input_rate_.hz / 2.0)};
}

std::size_t Decimator::push(std::span<const float> x, std::span<float> out) noexcept
{
    if (factor_ == 1) {
        std::copy(x.begin(), x.end(), out.begin());
        return x.size();
    }
    std::size_t written = 0;
    while (!x.empty()) {
        const std::size_t count = std::min(x.size(), kBlock);
        written += push_block(x.first(count), out.subspan(written));
        x = x.subspan(count);
    }
    return written;
}

HOLDWELL_WIDE std::size_t Decimator::push_block(std::span<const float> x,
                                                std::span<float> out) noexcept
{
    const std::size_t n = taps_.size();
    std::copy(x.begin(), x.end(), history_.begin() + static_cast<std::ptrdiff_t>(n));
    std::size_t written = 0;
    std::size_t end = factor_ - phase_;  // of what the next kept sample is made of, in x
    for (; end <= x.size(); end += factor_) {
        out[written++] = static_cast<float>(dot(taps_.data(), &history_[end], n));
    }
    phase_ = x.size() + factor_ - end;
    std::copy_n(history_.begin() + static_cast<std::ptrdiff_t>(x.size()), n, history_.begin());
    return written;
}

void Decimator::reset() noexcept
{
    std::fill(history_.begin(), history_.end(), 0.0f);
    phase_ = 0;
}

}  // namespace holdwell
