#include "dsp/harmonic_refiner.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dsp/cholesky.h"
#include "dsp/harmonic_fit.h"
#include "dsp/turning_phasor.h"
#include "dsp/vector_sums.h"

namespace holdwell {

namespace {

constexpr double kTwoPi = 2.0 * std::numbers::pi;
constexpr double kRidge = 1e-9;             // far below what shows in an exact tone
constexpr std::size_t kFirstHarmonics = 5;  // few at first: a wider pull
constexpr int kSteps = 2;
constexpr double kLargestStep = 0.03;  // of f0
constexpr double kSteepest = 8.0;      // f0 per second, of either sign

}  // namespace

HarmonicRefiner::HarmonicRefiner(SampleRate rate, std::size_t frame_length, double shape)
    : rate_hz_{rate.hz}, n_{frame_length}, stride_{padded(n_)},
      time_(stride_, 0.0f), weight_{window_weights(n_, shape)}, frame_(stride_, 0.0f),
      weighted_frame_(stride_, 0.0f), cos_((kMost + 1) * stride_, 0.0f),
      sin_((kMost + 1) * stride_, 0.0f), far_(4 * stride_, 0.0f), twice_cos_(stride_, 0.0f),
      rest_(stride_, 0.0f), by_phase_(stride_, 0.0f), by_f_(stride_, 0.0f),
      by_slope_(stride_, 0.0f), weighted_f_(stride_, 0.0f), weighted_slope_(stride_, 0.0f),
      gram_(kMostColumns * kMostColumns)
{
    const double middle = (static_cast<double>(n_) - 1.0) / 2.0;
    for (std::size_t i = 0; i < n_; ++i) {
        time_[i] = static_cast<float>((static_cast<double>(i) - middle) / rate_hz_);
    }
    std::fill_n(cos_.begin(), stride_, 1.0f);  // row 0; that of the sines is 0
}

void HarmonicRefiner::set_frame(std::span<const float> x) noexcept
{
    std::copy(x.begin(), x.end(), frame_.begin());
    for (std::size_t i = 0; i < stride_; ++i) weighted_frame_[i] = weight_[i] * frame_[i];
    energy_ = dot(weighted_frame_.data(), frame_.data(), stride_);
}

void HarmonicRefiner::fill_rows(Hertz f, double slope, std::size_t harmonics) noexcept
{
    const auto phi = [&](double t) { return kTwoPi * t * (f.value + 0.5 * slope * t); };
    const double first = -(static_cast<double>(n_) - 1.0) / 2.0 / rate_hz_;
    const double dt = 1.0 / rate_hz_;
    TurningPhasor phasor{
        .at = std::polar(1.0, phi(first)),
        .step = std::polar(1.0, phi(first + dt) - phi(first)),
        .step_step = std::polar(1.0, kTwoPi * slope * dt * dt),
    };
    for (std::size_t i = 0; i < n_; ++i) {
        cosines(1)[i] = static_cast<float>(phasor.at.real());
        sines(1)[i] = static_cast<float>(phasor.at.imag());
        twice_cos_[i] = 2.0f * cosines(1)[i];
        phasor.advance();
    }
    for (std::size_t k = 2; k <= harmonics; ++k) {
        for (std::size_t i = 0; i < stride_; ++i) {
            cosines(k)[i] = twice_cos_[i] * cosines(k - 1)[i] - cosines(k - 2)[i];
            sines(k)[i] = twice_cos_[i] * sines(k - 1)[i] - sines(k - 2)[i];
        }
    }
}

// Products of cosines and sines are sums of cosines and sines of other multiples, so the whole
// matrix follows from sum w cos(m phi) and sum w sin(m phi), m = 0 .. 2 K.
void HarmonicRefiner::fill_gram(std::size_t harmonics) noexcept
{
    std::array<double, kMostColumns + 1> even{};
    std::array<double, kMostColumns + 1> odd{};
    for (std::size_t m = 0; m <= harmonics; ++m) {
        even[m] = dot(weight_.data(), cosines(m), stride_);
        odd[m] = dot(weight_.data(), sines(m), stride_);
    }
    float* c = far_.data();
    float* c_next = c + stride_;
    float* s = c_next + stride_;
    float* s_next = s + stride_;
    std::copy_n(cosines(harmonics), stride_, c);
    std::copy_n(sines(harmonics), stride_, s);
    std::copy_n(cosines(harmonics - 1), stride_, c_next);
    std::copy_n(sines(harmonics - 1), stride_, s_next);
    for (std::size_t m = harmonics + 1; m <= 2 * harmonics; ++m) {
        next_multiple(c_next, twice_cos_.data(), c, stride_);
        next_multiple(s_next, twice_cos_.data(), s, stride_);
        std::swap(c, c_next);
        std::swap(s, s_next);
        even[m] = dot(weight_.data(), c, stride_);
        odd[m] = dot(weight_.data(), s, stride_);
    }
    const std::size_t columns = 2 * harmonics;
    for (std::size_t i = 0; i < harmonics; ++i) {
        double* cosine_row = &gram_[i * columns];
        double* sine_row = &gram_[(harmonics + i) * columns];
        for (std::size_t j = 0; j <= i; ++j) {
            cosine_row[j] = 0.5 * (even[i - j] + even[i + j + 2]);
            sine_row[harmonics + j] = 0.5 * (even[i - j] - even[i + j + 2]);
        }
        for (std::size_t j = 0; j < harmonics; ++j) {
            const double difference = i >= j ? odd[i - j] : -odd[j - i];
            sine_row[j] = 0.5 * (odd[i + j + 2] + difference);
        }
        cosine_row[i] += kRidge * even[0];
        sine_row[harmonics + i] += kRidge * even[0];
    }
}

void HarmonicRefiner::fit_amplitudes(std::size_t harmonics) noexcept
{
    for (std::size_t k = 1; k <= harmonics; ++k) {
        amplitude_[k - 1] = dot(weighted_frame_.data(), cosines(k), stride_);
        amplitude_[harmonics + k - 1] = dot(weighted_frame_.data(), sines(k), stride_);
    }
    cholesky_solve(gram_, 2 * harmonics, amplitude_);
}

// Fills what is left over and the model's derivatives by f and by s.
void HarmonicRefiner::subtract_model(std::size_t harmonics) noexcept
{
    std::copy(frame_.begin(), frame_.end(), rest_.begin());
    std::fill(by_phase_.begin(), by_phase_.end(), 0.0f);
    for (std::size_t k = 1; k <= harmonics; ++k) {
        const auto a = static_cast<float>(amplitude_[k - 1]);
        const auto b = static_cast<float>(amplitude_[harmonics + k - 1]);
        const auto order = static_cast<float>(k);
        const float* c = cosines(k);
        const float* s = sines(k);
        for (std::size_t i = 0; i < stride_; ++i) {
            rest_[i] -= a * c[i] + b * s[i];
            by_phase_[i] += order * (b * c[i] - a * s[i]);
        }
    }
    for (std::size_t i = 0; i < stride_; ++i) {
        by_f_[i] = static_cast<float>(kTwoPi) * time_[i] * by_phase_[i];
        by_slope_[i] = 0.5f * time_[i] * by_f_[i];
        weighted_f_[i] = weight_[i] * by_f_[i];
        weighted_slope_[i] = weight_[i] * by_slope_[i];
    }
}

// Products of a weighted derivative with every column.
void HarmonicRefiner::take_out_amplitudes(std::span<const float> weighted, std::size_t harmonics,
                                          std::array<double, kMostColumns>& products) const noexcept
{
    for (std::size_t k = 1; k <= harmonics; ++k) {
        products[k - 1] = dot(weighted.data(), &cos_[k * stride_], stride_);
        products[harmonics + k - 1] = dot(weighted.data(), &sin_[k * stride_], stride_);
    }
}

std::optional<HarmonicRefiner::Step> HarmonicRefiner::step(Hertz f, double slope,
                                                           std::size_t harmonics) noexcept
{
    const std::size_t columns = 2 * harmonics;
    fill_rows(f, slope, harmonics);
    fill_gram(harmonics);
    if (!cholesky_factor(gram_, columns)) return std::nullopt;
    fit_amplitudes(harmonics);
    subtract_model(harmonics);

    double ff = dot(weighted_f_.data(), by_f_.data(), stride_);
    double fs = dot(weighted_f_.data(), by_slope_.data(), stride_);
    double ss = dot(weighted_slope_.data(), by_slope_.data(), stride_);
    const double gf = dot(weighted_f_.data(), rest_.data(), stride_);
    const double gs = dot(weighted_slope_.data(), rest_.data(), stride_);
    // What the amplitudes can explain of either derivative says nothing about f and s.
    std::array<double, kMostColumns> cross_f;
    std::array<double, kMostColumns> cross_s;
    take_out_amplitudes(weighted_f_, harmonics, cross_f);
    take_out_amplitudes(weighted_slope_, harmonics, cross_s);
    std::array<double, kMostColumns> solved_f = cross_f;
    std::array<double, kMostColumns> solved_s = cross_s;
    cholesky_solve(gram_, columns, solved_f);
    cholesky_solve(gram_, columns, solved_s);
    for (std::size_t i = 0; i < columns; ++i) {
        ff -= cross_f[i] * solved_f[i];
        fs -= cross_f[i] * solved_s[i];
        ss -= cross_s[i] * solved_s[i];
    }
    const double determinant = ff * ss - fs * fs;
    if (!(ff > 0.0) || !(determinant > 1e-12 * ff * ss)) return std::nullopt;

    for (std::size_t i = 0; i < stride_; ++i) by_phase_[i] = weight_[i] * rest_[i];
    const double left_over = dot(by_phase_.data(), rest_.data(), stride_);
    return Step{
        .df_hz = (ss * gf - fs * gs) / determinant,
        .dslope_hz_per_s = (ff * gs - fs * gf) / determinant,
        .residual = left_over / energy_,
        .information = determinant / ss / std::max(left_over, 1e-30),
    };
}

std::optional<RefinedF0> HarmonicRefiner::refine(std::span<const float> x, Hertz guess,
                                                 Hertz band) noexcept
{
    set_frame(x);
    if (!(energy_ > 1e-20)) return std::nullopt;
    RefinedF0 result{guess, 0.0, 1.0, {}};
    for (int round = 0; round < kSteps; ++round) {
        const double f = result.f0.value;
        const auto below_band = static_cast<std::size_t>(std::max(1.0, band.value / f));
        const std::size_t harmonics = std::min(round == 0 ? kFirstHarmonics : kMost, below_band);
        const std::optional<Step> found = step(result.f0, result.slope_hz_per_s, harmonics);
        if (!found) return std::nullopt;
        result.f0.value += std::clamp(found->df_hz, -kLargestStep * f, kLargestStep * f);
        result.slope_hz_per_s = std::clamp(result.slope_hz_per_s + found->dslope_hz_per_s,
                                           -kSteepest * f, kSteepest * f);
        result.residual = std::clamp(found->residual, 0.0, 1.0);
        result.error.value = 1.0 / std::sqrt(found->information * static_cast<double>(n_));
    }
    return result;
}

}  // namespace holdwell
