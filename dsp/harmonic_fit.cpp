#include "dsp/harmonic_fit.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dsp/cholesky.h"
#include "dsp/turning_phasor.h"
#include "dsp/vector_sums.h"

namespace holdwell {

namespace {

constexpr double kTwoPi = 2.0 * std::numbers::pi;
constexpr std::size_t kTablePoints = 1024;  // over 0 .. pi
// Keeps the normal equations solvable when two lines lie closer than the window resolves; 50 dB
// below the diagonal.
constexpr double kRidge = 1e-5;

std::vector<float> transform_table(std::span<const float> weight, std::size_t n)
{
    // One point before 0 and some after pi, for the interpolation.
    std::vector<float> table(kTablePoints + 4);
    const double middle = (static_cast<double>(n) - 1.0) / 2.0;
    for (std::size_t p = 0; p < table.size(); ++p) {
        const double theta = std::numbers::pi * (static_cast<double>(p) - 1.0) / kTablePoints;
        double sum = 0.0;
        // The weights are even about the middle, and so is every term.
        TurningPhasor phasor{.at = std::polar(1.0, theta * (0.0 - middle)),
                             .step = std::polar(1.0, theta)};
        for (std::size_t i = 0; i < n; ++i) {
            sum += static_cast<double>(weight[i]) * phasor.at.real();
            phasor.advance();
        }
        table[p] = static_cast<float>(sum);
    }
    return table;
}

}  // namespace

std::vector<float> window_weights(std::size_t length, double shape)
{
    std::vector<float> weight(padded(length), 0.0f);
    const auto n = static_cast<double>(length);
    for (std::size_t i = 0; i < length; ++i) {
        const double t = (static_cast<double>(i) - (n - 1.0) / 2.0) / n;
        weight[i] = static_cast<float>(std::pow(std::cos(std::numbers::pi * t), shape));
    }
    return weight;
}

HarmonicFit::HarmonicFit(SampleRate rate, std::size_t frame_length, double shape)
    : rate_hz_{rate.hz}, n_{frame_length}, half_{padded(n_ / 2)}, weight_{window_weights(n_,
                                                                                         shape)},
      weighted_(weight_.size(), 0.0f), even_(half_, 0.0f),
      odd_(half_, 0.0f), window_table_{transform_table(weight_, n_)}, rows_(5 * half_, 0.0f),
      gram_(kMostLines * kMostLines)
{
    for (const float w : weight_) {
        weight_sum_ += static_cast<double>(w);
        weight_square_sum_ += static_cast<double>(w) * static_cast<double>(w);
    }
}

// Cubic interpolation (Catmull-Rom) in the table. About the half-sample middle of an even frame the
// transform is even, and a whole turn changes its sign.
double HarmonicFit::window_transform(double radians_per_sample) const noexcept
{
    double turns = radians_per_sample / kTwoPi;
    const double whole = std::floor(turns);
    double sign = std::fmod(whole, 2.0) != 0.0 ? -1.0 : 1.0;
    turns -= whole;
    if (turns > 0.5) {
        turns = 1.0 - turns;
        sign = -sign;
    }
    const double at = 2.0 * turns * kTablePoints;
    const auto p = static_cast<std::size_t>(at);
    const double u = at - static_cast<double>(p);
    const auto y = [&](std::size_t i) { return static_cast<double>(window_table_[p + i]); };
    return sign * (y(1) + 0.5 * u *
                              (y(2) - y(0) +
                               u * (2.0 * y(0) - 5.0 * y(1) + 4.0 * y(2) - y(3) +
                                    u * (3.0 * (y(1) - y(2)) + y(3) - y(0)))));
}

HOLDWELL_WIDE void HarmonicFit::set_frame(std::span<const float> x) noexcept
{
    energy_ = 0.0;
    for (std::size_t i = 0; i < n_; ++i) {
        weighted_[i] = weight_[i] * x[i];
        energy_ += static_cast<double>(weighted_[i]) * static_cast<double>(x[i]);
    }
    const std::size_t half = n_ / 2;
    for (std::size_t i = 0; i < half; ++i) {
        const float later = weighted_[half + i];
        const float earlier = weighted_[half - 1 - i];
        even_[i] = later + earlier;
        odd_[i] = later - earlier;
    }
}

// Sums of the weighted frame times cos and sin of every line.
HOLDWELL_WIDE void HarmonicFit::project(double theta, std::size_t lines) noexcept
{
    float* twice = rows_.data();
    float* c = twice + half_;
    float* c_next = c + half_;
    float* s = c_next + half_;
    float* s_next = s + half_;
    fill_turning(0.5 * theta, theta, {c, half_}, {s, half_});
    for (std::size_t i = 0; i < half_; ++i) {
        twice[i] = 2.0f * c[i];
        c_next[i] = 1.0f;
        s_next[i] = 0.0f;
    }
    for (std::size_t k = 0; k < lines; ++k) {
        products_[k] = Two{dot(even_.data(), c, half_), dot(odd_.data(), s, half_)};
        next_multiple(c_next, twice, c, half_);
        next_multiple(s_next, twice, s, half_);
        std::swap(c, c_next);
        std::swap(s, s_next);
    }
}

double HarmonicFit::explain(const Transform& transform, LineFit& result) noexcept
{
    const std::size_t lines = result.count;
    for (std::size_t i = 0; i < lines; ++i) {
        for (std::size_t j = 0; j <= i; ++j) {
            const double of_difference = transform[i - j];
            const double of_sum = transform[i + j + 2];
            gram_[i * lines + j] =
                Two{0.5 * (of_difference + of_sum), 0.5 * (of_difference - of_sum)};
        }
        gram_[i * lines + i] += kRidge * transform[0];
    }
    if (!cholesky_factor(gram_, lines)) return 0.0;
    solution_ = products_;
    cholesky_solve(gram_, lines, solution_);
    Two explained{};
    for (std::size_t k = 0; k < lines; ++k) {
        explained += solution_[k] * products_[k];
        const Two power = solution_[k] * solution_[k];
        result.power[k] = power[0] + power[1];
    }
    return explained[0] + explained[1];
}

LineFit HarmonicFit::fit(Hertz f, Hertz band, std::size_t most) noexcept
{
    LineFit result;
    if (!(energy_ > 0.0)) return result;
    const auto below_band = static_cast<std::size_t>(std::max(1.0, band.value / f.value));
    result.count = std::min(most, below_band);
    const double theta = kTwoPi * f.value / rate_hz_;
    project(theta, result.count);
    Transform transform{};
    for (std::size_t m = 0; m <= 2 * result.count; ++m) {
        transform[m] = window_transform(theta * static_cast<double>(m));
    }
    const double explained = explain(transform, result);
    result.residual = std::clamp(1.0 - explained / energy_, 0.0, 1.0);
    // Weighted least squares: each of a_k, b_k varies by 2 sigma^2 sum w^2 / (sum w)^2.
    const double variance = result.residual * energy_ / weight_sum_;
    result.noise_power = 4.0 * variance * weight_square_sum_ / (weight_sum_ * weight_sum_);
    return result;
}

}  // namespace holdwell
