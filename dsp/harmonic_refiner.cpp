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
      weighted_frame_(stride_, 0.0f), turn_cos_(stride_, 0.0f), turn_sin_(stride_, 0.0f),
      cos_((kMost + 1) * kPiece, 0.0f), sin_((kMost + 1) * kPiece, 0.0f),
      gram_(kMostColumns * kMostColumns)
{
    const double middle = (static_cast<double>(n_) - 1.0) / 2.0;
    for (std::size_t i = 0; i < n_; ++i) {
        time_[i] = static_cast<float>((static_cast<double>(i) - middle) / rate_hz_);
    }
    std::fill_n(cos_.begin(), kPiece, 1.0f);  // row 0; that of the sines is 0
}

void HarmonicRefiner::set_frame(std::span<const float> x) noexcept
{
    std::copy(x.begin(), x.end(), frame_.begin());
    for (std::size_t i = 0; i < stride_; ++i) weighted_frame_[i] = weight_[i] * frame_[i];
    energy_ = dot(weighted_frame_.data(), frame_.data(), stride_);
}

void HarmonicRefiner::turn(Hertz f, double slope) noexcept
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
        turn_cos_[i] = static_cast<float>(phasor.at.real());
        turn_sin_[i] = static_cast<float>(phasor.at.imag());
        phasor.advance();
    }
}

// The rows of the piece that begins there; its length.
std::size_t HarmonicRefiner::fill_rows(std::size_t begin, std::size_t harmonics) noexcept
{
    const std::size_t count = std::min(kPiece, stride_ - begin);
    std::copy_n(&turn_cos_[begin], count, cosines(1));
    std::copy_n(&turn_sin_[begin], count, sines(1));
    for (std::size_t i = 0; i < count; ++i) twice_cos_[i] = 2.0f * turn_cos_[begin + i];
    for (std::size_t k = 2; k <= harmonics; ++k) {
        multiple(cosines(k), twice_cos_.data(), kPiece, count);
        multiple(sines(k), twice_cos_.data(), kPiece, count);
    }
    return count;
}

// Products of cosines and sines are sums of cosines and sines of other multiples, so the whole
// matrix follows from sum w cos(m phi) and sum w sin(m phi), m = 0 .. 2 K.
void HarmonicRefiner::fill_gram(const Moments& moments, std::size_t harmonics) noexcept
{
    const std::size_t columns = 2 * harmonics;
    std::array<double, kMostColumns + 1> even{};
    std::array<double, kMostColumns + 1> odd{};
    for (std::size_t m = 0; m <= columns; ++m) {
        even[m] = moments.even[m].total();
        odd[m] = moments.odd[m].total();
    }
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

// Multiples above the last harmonic, for the matrix alone: two rows each of cosines and sines take
// turns.
void HarmonicRefiner::add_far(Moments& moments, std::size_t begin, std::size_t count,
                              std::size_t harmonics) noexcept
{
    float* c = far_[0].data();
    float* c_next = far_[1].data();
    float* s = far_[2].data();
    float* s_next = far_[3].data();
    std::copy_n(cosines(harmonics), count, c);
    std::copy_n(cosines(harmonics - 1), count, c_next);
    std::copy_n(sines(harmonics), count, s);
    std::copy_n(sines(harmonics - 1), count, s_next);
    for (std::size_t m = harmonics + 1; m <= 2 * harmonics; ++m) {
        next_multiple(c_next, twice_cos_.data(), c, count);
        next_multiple(s_next, twice_cos_.data(), s, count);
        std::swap(c, c_next);
        std::swap(s, s_next);
        moments.even[m].add(&weight_[begin], c, count);
        moments.odd[m].add(&weight_[begin], s, count);
    }
}

// Leaves the factor of the matrix behind; false when it has none.
bool HarmonicRefiner::fit_amplitudes(std::size_t harmonics) noexcept
{
    Moments moments;
    std::array<LaneSum, kMostColumns> products;
    for (std::size_t begin = 0; begin < stride_; begin += kPiece) {
        const std::size_t count = fill_rows(begin, harmonics);
        const float* w = &weight_[begin];
        const float* x = &weighted_frame_[begin];
        moments.even[0].add(w, cosines(0), count);
        for (std::size_t k = 1; k <= harmonics; ++k) {
            moments.even[k].add(w, cosines(k), count);
            products[k - 1].add(x, cosines(k), count);
            moments.odd[k].add(w, sines(k), count);
            products[harmonics + k - 1].add(x, sines(k), count);
        }
        add_far(moments, begin, count, harmonics);
    }
    fill_gram(moments, harmonics);
    if (!cholesky_factor(gram_, 2 * harmonics)) return false;
    for (std::size_t i = 0; i < 2 * harmonics; ++i) amplitude_[i] = products[i].total();
    cholesky_solve(gram_, 2 * harmonics, amplitude_);
    return true;
}

// Fills what is left over of a piece, and the model's derivatives by f and by s.
void HarmonicRefiner::subtract_model(std::size_t begin, std::size_t count,
                                     std::size_t harmonics) noexcept
{
    std::copy_n(&frame_[begin], count, rest_.begin());
    std::fill_n(by_phase_.begin(), count, 0.0f);
    for (std::size_t k = 1; k <= harmonics; ++k) {
        const auto a = static_cast<float>(amplitude_[k - 1]);
        const auto b = static_cast<float>(amplitude_[harmonics + k - 1]);
        const auto order = static_cast<float>(k);
        const float* c = cosines(k);
        const float* s = sines(k);
        for (std::size_t i = 0; i < count; ++i) {
            rest_[i] -= a * c[i] + b * s[i];
            by_phase_[i] += order * (b * c[i] - a * s[i]);
        }
    }
    for (std::size_t i = 0; i < count; ++i) {
        by_f_[i] = static_cast<float>(kTwoPi) * time_[begin + i] * by_phase_[i];
        by_slope_[i] = 0.5f * time_[begin + i] * by_f_[i];
        weighted_f_[i] = weight_[begin + i] * by_f_[i];
        weighted_slope_[i] = weight_[begin + i] * by_slope_[i];
    }
}

HarmonicRefiner::Derivatives HarmonicRefiner::differentiate(std::size_t harmonics) noexcept
{
    Derivatives d;
    for (std::size_t begin = 0; begin < stride_; begin += kPiece) {
        const std::size_t count = fill_rows(begin, harmonics);
        subtract_model(begin, count, harmonics);
        d.ff.add(weighted_f_.data(), by_f_.data(), count);
        d.fs.add(weighted_f_.data(), by_slope_.data(), count);
        d.ss.add(weighted_slope_.data(), by_slope_.data(), count);
        d.f_rest.add(weighted_f_.data(), rest_.data(), count);
        d.s_rest.add(weighted_slope_.data(), rest_.data(), count);
        for (std::size_t k = 1; k <= harmonics; ++k) {
            d.f_column[k - 1].add(weighted_f_.data(), cosines(k), count);
            d.s_column[k - 1].add(weighted_slope_.data(), cosines(k), count);
            d.f_column[harmonics + k - 1].add(weighted_f_.data(), sines(k), count);
            d.s_column[harmonics + k - 1].add(weighted_slope_.data(), sines(k), count);
        }
        for (std::size_t i = 0; i < count; ++i) by_phase_[i] = weight_[begin + i] * rest_[i];
        d.rest.add(by_phase_.data(), rest_.data(), count);
    }
    return d;
}

std::optional<HarmonicRefiner::Step> HarmonicRefiner::step(Hertz f, double slope,
                                                           std::size_t harmonics) noexcept
{
    const std::size_t columns = 2 * harmonics;
    turn(f, slope);
    if (!fit_amplitudes(harmonics)) return std::nullopt;
    const Derivatives d = differentiate(harmonics);
    double ff = d.ff.total();
    double fs = d.fs.total();
    double ss = d.ss.total();
    const double gf = d.f_rest.total();
    const double gs = d.s_rest.total();
    // What the amplitudes can explain of either derivative says nothing about f and s. With the
    // factor L of their matrix that is the product of L^-1 times the derivatives' columns.
    std::array<double, kMostColumns> solved_f;
    std::array<double, kMostColumns> solved_s;
    for (std::size_t i = 0; i < columns; ++i) {
        solved_f[i] = d.f_column[i].total();
        solved_s[i] = d.s_column[i].total();
    }
    cholesky_forward(gram_, columns, solved_f);
    cholesky_forward(gram_, columns, solved_s);
    for (std::size_t i = 0; i < columns; ++i) {
        ff -= solved_f[i] * solved_f[i];
        fs -= solved_f[i] * solved_s[i];
        ss -= solved_s[i] * solved_s[i];
    }
    const double determinant = ff * ss - fs * fs;
    if (!(ff > 0.0) || !(determinant > 1e-12 * ff * ss)) return std::nullopt;

    const double left_over = d.rest.total();
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
