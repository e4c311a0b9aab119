#include "dsp/cepstrum.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numbers>

namespace holdwell {

namespace {

constexpr double kShortestWindowSeconds = 0.036;
constexpr double kLineFromSeconds = 0.001;
constexpr double kPeakFromSeconds = 1.0 / 600.0;
constexpr double kToSeconds = 1.0 / 60.0;
constexpr double kHalfSmoothingSeconds = 0.0005;
constexpr std::size_t kHopsPerValue = 2;
// Far below 24-bit silence; keeps the logarithm finite.
constexpr float kPowerFloor = 1e-14f;

// Quicker than by log10.
float level_db_of(float power)
{
    constexpr float kDbPerNeper = 10.0f / std::numbers::ln10_v<float>;
    return kDbPerNeper * std::log(power);
}

std::size_t window_size(SampleRate rate)
{
    return std::bit_ceil(static_cast<std::size_t>(kShortestWindowSeconds * rate.hz));
}

}  // namespace

CepstralPeak::CepstralPeak(const AnalysisConfig& config)
    : rate_{config.sample_rate}, fft_{window_size(rate_)}, window_(fft_.size()),
      recent_(fft_.size()), scratch_(fft_.size()), spectrum_(fft_.size())
{
    const std::size_t n = fft_.size();
    for (std::size_t i = 0; i < n; ++i) {
        const double turn =
            2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(n);
        window_[i] = static_cast<float>(0.54 - 0.46 * std::cos(turn));
    }
    for (auto& c : cepstra_) c.resize(bin_at(kToSeconds + 2.0 * kHalfSmoothingSeconds) + 2);
    smoothed_db_.resize(cepstra_[0].size());
}

void CepstralPeak::reset() noexcept { hops_ = computed_ = filled_ = 0; }

std::size_t CepstralPeak::bin_at(double quefrency_s) const noexcept
{
    return std::min(static_cast<std::size_t>(std::lround(quefrency_s * rate_.hz)),
                    fft_.size() / 2 - 2);
}

std::optional<double> CepstralPeak::push(std::span<const float> hop) noexcept
{
    const std::size_t n = std::min(hop.size(), recent_.size());
    std::copy(recent_.begin() + static_cast<std::ptrdiff_t>(n), recent_.end(), recent_.begin());
    std::copy(hop.end() - static_cast<std::ptrdiff_t>(n), hop.end(),
              recent_.end() - static_cast<std::ptrdiff_t>(n));
    filled_ = std::min(filled_ + n, recent_.size());
    if (++hops_ % kHopsPerValue != 0 || filled_ < recent_.size()) return std::nullopt;
    compute_cepstrum(cepstra_[computed_ % kTimeSpan]);
    if (++computed_ < kTimeSpan) return std::nullopt;
    smooth();
    return prominence();
}

void CepstralPeak::compute_cepstrum(std::span<float> cepstrum) noexcept
{
    for (std::size_t i = 0; i < recent_.size(); ++i) scratch_[i] = recent_[i] * window_[i];
    fft_.forward(scratch_, spectrum_);
    const std::size_t n = fft_.size();
    for (std::size_t k = 0; k <= n / 2; ++k) {
        const float level = level_db_of(power_of_bin(spectrum_, k) + kPowerFloor);
        scratch_[k] = level;
        if (k > 0) scratch_[n - k] = level;  // an even sequence: its transform is real
    }
    fft_.forward(scratch_, spectrum_);
    for (std::size_t q = 0; q < cepstrum.size(); ++q) {
        const float c = spectrum_[q] / static_cast<float>(n);
        cepstrum[q] = c * c;
    }
}

// A running mean over quefrency of the mean over time.
void CepstralPeak::smooth() noexcept
{
    const std::size_t reach = bin_at(kHalfSmoothingSeconds);
    const auto over_time = [&](std::size_t q) {
        double sum = 0.0;
        for (const auto& c : cepstra_) sum += static_cast<double>(c[q]);
        return sum / static_cast<double>(kTimeSpan);
    };
    const std::size_t first = bin_at(kLineFromSeconds);
    const std::size_t last = bin_at(kToSeconds);
    double sum = 0.0;
    for (std::size_t q = first - reach; q < first + reach; ++q) sum += over_time(q);
    for (std::size_t q = first; q <= last; ++q) {
        sum += over_time(q + reach);
        const double mean = sum / static_cast<double>(2 * reach + 1) + 1e-12;
        smoothed_db_[q] = static_cast<double>(level_db_of(static_cast<float>(mean)));
        sum -= over_time(q - reach);
    }
}

double CepstralPeak::prominence() const noexcept
{
    const std::size_t first = bin_at(kLineFromSeconds);
    const std::size_t last = bin_at(kToSeconds);
    const double middle = 0.5 * static_cast<double>(first + last);
    const double count = static_cast<double>(last - first + 1);
    double mean = 0.0;
    double slope_sum = 0.0;
    double square_sum = 0.0;
    for (std::size_t q = first; q <= last; ++q) {
        const double x = static_cast<double>(q) - middle;
        mean += smoothed_db_[q] / count;
        slope_sum += x * smoothed_db_[q];
        square_sum += x * x;
    }
    const auto begin = smoothed_db_.begin() + static_cast<std::ptrdiff_t>(bin_at(kPeakFromSeconds));
    const auto end = smoothed_db_.begin() + static_cast<std::ptrdiff_t>(last + 1);
    const auto peak = std::max_element(begin, end);
    const double at = static_cast<double>(peak - smoothed_db_.begin()) - middle;
    return *peak - (mean + slope_sum / square_sum * at);
}

}  // namespace holdwell
