#include "dsp/harmonic_fit.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "dsp/cholesky.h"
#include "dsp/vector_sums.h"

namespace holdwell {

namespace {

constexpr double kTwoPi = 2.0 * std::numbers::pi;
constexpr std::size_t kMostColumns = 2 * kMostHarmonics;
constexpr std::size_t kTablePoints = 8192;  // over 0 .. 2 pi
// Keeps the normal equations solvable when two lines coincide within the window's resolution; 60 dB
// below the diagonal, so that an exact tone is still fitted exactly enough (tests/dsp).
constexpr double kFitRidge = 1e-5;
constexpr double kRefineRidge = 1e-9;

// A unit phasor that turns by `step` a sample, the step itself by `step_step`.
struct Turning {
    std::complex<double> at;
    std::complex<double> step;
    std::complex<double> step_step{1.0, 0.0};
    void advance() noexcept
    {
        at = product(at, step);
        step = product(step, step_step);
    }
    // std::complex's operator* looks for infinities, which cannot occur here.
    static std::complex<double> product(std::complex<double> a, std::complex<double> b) noexcept
    {
        return {a.real() * b.real() - a.imag() * b.imag(),
                a.real() * b.imag() + a.imag() * b.real()};
    }
};

// The next row of a Chebyshev recurrence: cos(k u) from cos((k-1) u), cos((k-2) u), and likewise
// for sines.
void next_multiple(float* next, const float* twice_cos, const float* last, std::size_t n) noexcept
{
    // `next` holds the row before the last one on entry.
    for (std::size_t i = 0; i < n; ++i) next[i] = twice_cos[i] * last[i] - next[i];
}

}  // namespace

HarmonicFit::HarmonicFit(SampleRate rate, std::size_t frame_length, double shape)
    : rate_hz_{rate.hz}, n_{frame_length}, stride_{padded(n_)}, half_{padded(n_ / 2)},
      time_(stride_, 0.0f), weight_(stride_, 0.0f), frame_(stride_, 0.0f), even_(half_, 0.0f),
      odd_(half_, 0.0f), half_time_(half_, 0.0f), window_table_(kTablePoints + 4),
      cos_((kMostHarmonics + 1) * stride_), sin_((kMostHarmonics + 1) * stride_),
      scratch_(8 * stride_), gram_(kMostColumns * kMostColumns), rhs_(4 * kMostColumns),
      solution_(2 * kMostColumns)
{
    const double middle = (static_cast<double>(n_) - 1.0) / 2.0;
    for (std::size_t i = 0; i < n_; ++i) {
        const double t = static_cast<double>(i) - middle;
        time_[i] = static_cast<float>(t / rate_hz_);
        weight_[i] = static_cast<float>(
            std::pow(std::cos(std::numbers::pi * t / static_cast<double>(n_)), shape));
        const auto w = static_cast<double>(weight_[i]);
        weight_sum_ += w;
        weight_square_sum_ += w * w;
    }
    for (std::size_t i = 0; i < n_ / 2; ++i) half_time_[i] = time_[n_ / 2 + i];
    for (std::size_t p = 0; p < window_table_.size(); ++p) {
        const double theta = kTwoPi * (static_cast<double>(p) - 1.0) / kTablePoints;
        double sum = 0.0;
        for (std::size_t i = 0; i < n_; ++i) {
            sum += static_cast<double>(weight_[i]) *
                   std::cos(theta * (static_cast<double>(i) - middle));
        }
        window_table_[p] = sum;
    }
}

// Cubic interpolation (Catmull-Rom) in the table; the argument is folded into 0 .. 2 pi. About the
// half-sample middle of an even frame a whole turn changes the sign.
double HarmonicFit::window_transform(double radians_per_sample) const noexcept
{
    const double turns = radians_per_sample / kTwoPi;
    const double whole = std::floor(turns);
    const double at = (turns - whole) * kTablePoints;
    const auto p = static_cast<std::size_t>(at);
    const double u = at - static_cast<double>(p);
    const double* y = &window_table_[p];
    const double value =
        y[1] + 0.5 * u *
                   (y[2] - y[0] +
                    u * (2.0 * y[0] - 5.0 * y[1] + 4.0 * y[2] - y[3] +
                         u * (3.0 * (y[1] - y[2]) + y[3] - y[0])));
    return std::fmod(whole, 2.0) != 0.0 && n_ % 2 == 0 ? -value : value;
}

void HarmonicFit::set_frame(std::span<const float> x) noexcept
{
    std::copy(x.begin(), x.end(), frame_.begin());
    energy_ = 0.0;
    for (std::size_t i = 0; i < stride_; ++i) scratch_[i] = weight_[i] * frame_[i];
    energy_ = dot(scratch_.data(), frame_.data(), stride_);
    const std::size_t half = n_ / 2;
    for (std::size_t i = 0; i < half; ++i) {
        const float later = scratch_[half + i];
        const float earlier = scratch_[half - 1 - i];
        even_[i] = later + earlier;
        odd_[i] = later - earlier;
    }
}

LineFit HarmonicFit::fit(Hertz f, Hertz band, std::size_t most) noexcept
{
    LineFit result;
    const auto below_band = static_cast<std::size_t>(std::max(1.0, band.value / f.value));
    const std::size_t k_count = std::min(most, below_band);
    const double theta = kTwoPi * f.value / rate_hz_;
    float* twice = scratch_.data();
    float* c_last = twice + half_;
    float* c_next = c_last + half_;
    float* s_last = c_next + half_;
    float* s_next = s_last + half_;
    Turning phasor{.at = std::polar(1.0, 0.5 * theta), .step = std::polar(1.0, theta)};
    for (std::size_t i = 0; i < n_ / 2; ++i) {
        twice[i] = static_cast<float>(2.0 * phasor.at.real());
        c_last[i] = static_cast<float>(phasor.at.real());
        s_last[i] = static_cast<float>(phasor.at.imag());
        c_next[i] = 1.0f;
        s_next[i] = 0.0f;
        phasor.advance();
    }
    double* rhs_c = rhs_.data();
    double* rhs_s = rhs_c + kMostColumns;
    for (std::size_t k = 0; k < k_count; ++k) {
        rhs_c[k] = dot(even_.data(), c_last, half_);
        rhs_s[k] = dot(odd_.data(), s_last, half_);
        next_multiple(c_next, twice, c_last, half_);
        next_multiple(s_next, twice, s_last, half_);
        std::swap(c_last, c_next);
        std::swap(s_last, s_next);
    }
    std::array<double, kMostColumns + 1> transform{};
    for (std::size_t m = 0; m <= 2 * k_count; ++m) {
        transform[m] = window_transform(theta * static_cast<double>(m));
    }
    double explained = 0.0;
    for (const bool sines : {false, true}) {
        const double sign = sines ? -1.0 : 1.0;
        double* rhs = sines ? rhs_s : rhs_c;
        for (std::size_t i = 0; i < k_count; ++i) {
            for (std::size_t j = 0; j <= i; ++j) {
                gram_[i * k_count + j] = 0.5 * (transform[i - j] + sign * transform[i + j + 2]);
            }
            gram_[i * k_count + i] += kFitRidge * transform[0];
        }
        if (!cholesky_factor(gram_, k_count)) return {};
        std::copy(rhs, rhs + k_count, solution_.begin());
        cholesky_solve(gram_, k_count, solution_);
        for (std::size_t k = 0; k < k_count; ++k) {
            explained += solution_[k] * rhs[k];
            result.power[k] += solution_[k] * solution_[k];
        }
    }
    result.count = k_count;
    result.residual = energy_ > 0.0 ? std::clamp(1.0 - explained / energy_, 0.0, 1.0) : 1.0;
    // Weighted least squares: each of a_k, b_k varies by 2 sigma^2 sum w^2 / (sum w)^2.
    const double variance = result.residual * energy_ / weight_sum_;
    result.noise_power = 4.0 * variance * weight_square_sum_ / (weight_sum_ * weight_sum_);
    return result;
}

// One Gauss-Newton step: the change of f and s, and what the fit before it left over.
struct HarmonicFit::Step {
    double df_hz;
    double dslope_hz_per_s;
    double residual;
    double information;  // of f, with s and the amplitudes unknown
};

// Rows 1 .. K of cos(k phi), sin(k phi) are filled by gauss_newton_step from row 1.
void HarmonicFit::fill_base(Hertz f, double slope) noexcept
{
    float* c = &cos_[stride_];
    float* s = &sin_[stride_];
    // phi is quadratic in time, so the phasor turns by a step that itself turns evenly.
    const double first = -(static_cast<double>(n_) - 1.0) / 2.0 / rate_hz_;
    const double dt = 1.0 / rate_hz_;
    const auto phi = [&](double t) { return kTwoPi * t * (f.value + 0.5 * slope * t); };
    Turning phasor{
        .at = std::polar(1.0, phi(first)),
        .step = std::polar(1.0, phi(first + dt) - phi(first)),
        .step_step = std::polar(1.0, kTwoPi * slope * dt * dt),
    };
    for (std::size_t i = 0; i < n_; ++i) {
        c[i] = static_cast<float>(phasor.at.real());
        s[i] = static_cast<float>(phasor.at.imag());
        phasor.advance();
    }
    std::fill_n(cos_.begin(), stride_, 1.0f);
    std::fill_n(sin_.begin(), stride_, 0.0f);
}

std::optional<HarmonicFit::Step> HarmonicFit::gauss_newton_step(std::size_t harmonics) noexcept
{
    const std::size_t columns = 2 * harmonics;
    float* twice = scratch_.data();
    float* c_far = twice + stride_;  // multiples above K: only their sums are needed
    float* c_far2 = c_far + stride_;
    float* s_far = c_far2 + stride_;
    float* s_far2 = s_far + stride_;
    for (std::size_t i = 0; i < stride_; ++i) twice[i] = 2.0f * cos_[stride_ + i];

    std::array<double, 2 * kMostHarmonics + 1> even_sum{};  // sum of w cos(m phi)
    std::array<double, 2 * kMostHarmonics + 1> odd_sum{};   // sum of w sin(m phi)
    const auto take_sums = [&](std::size_t m, const float* c, const float* s) {
        even_sum[m] = dot(weight_.data(), c, stride_);
        odd_sum[m] = dot(weight_.data(), s, stride_);
    };
    take_sums(0, &cos_[0], &sin_[0]);
    take_sums(1, &cos_[stride_], &sin_[stride_]);
    for (std::size_t k = 2; k <= harmonics; ++k) {
        float* c = &cos_[k * stride_];
        float* s = &sin_[k * stride_];
        const float* c1 = c - stride_;
        const float* s1 = s - stride_;
        const float* c2 = c1 - stride_;
        const float* s2 = s1 - stride_;
        for (std::size_t i = 0; i < stride_; ++i) {
            c[i] = twice[i] * c1[i] - c2[i];
            s[i] = twice[i] * s1[i] - s2[i];
        }
        take_sums(k, c, s);
    }
    std::copy_n(&cos_[harmonics * stride_], stride_, c_far);
    std::copy_n(&sin_[harmonics * stride_], stride_, s_far);
    std::copy_n(&cos_[(harmonics - 1) * stride_], stride_, c_far2);
    std::copy_n(&sin_[(harmonics - 1) * stride_], stride_, s_far2);
    for (std::size_t m = harmonics + 1; m <= 2 * harmonics; ++m) {
        next_multiple(c_far2, twice, c_far, stride_);
        next_multiple(s_far2, twice, s_far, stride_);
        std::swap(c_far, c_far2);
        std::swap(s_far, s_far2);
        take_sums(m, c_far, s_far);
    }

    // Columns: cosines of harmonics 1 .. K, then sines.
    for (std::size_t i = 0; i < harmonics; ++i) {
        for (std::size_t j = 0; j <= i; ++j) {
            const double near = even_sum[i - j];
            const double far = even_sum[i + j + 2];
            gram_[i * columns + j] = 0.5 * (near + far);
            gram_[(harmonics + i) * columns + harmonics + j] = 0.5 * (near - far);
        }
        for (std::size_t j = 0; j < harmonics; ++j) {  // sine i, cosine j
            const double sum = odd_sum[i + j + 2];
            const double difference = i >= j ? odd_sum[i - j] : -odd_sum[j - i];
            gram_[(harmonics + i) * columns + j] = 0.5 * (sum + difference);
        }
    }
    for (std::size_t i = 0; i < columns; ++i) {
        gram_[i * columns + i] += kRefineRidge * even_sum[0];
    }
    if (!cholesky_factor(gram_, columns)) return std::nullopt;

    float* weighted = twice;  // no longer needed
    for (std::size_t i = 0; i < stride_; ++i) weighted[i] = weight_[i] * frame_[i];
    for (std::size_t k = 1; k <= harmonics; ++k) {
        solution_[k - 1] = dot(weighted, &cos_[k * stride_], stride_);
        solution_[harmonics + k - 1] = dot(weighted, &sin_[k * stride_], stride_);
    }
    cholesky_solve(gram_, columns, solution_);

    // Residual and the model's derivative by phase.
    float* rest = c_far;
    float* by_phase = s_far;
    std::copy(frame_.begin(), frame_.end(), rest);
    std::fill_n(by_phase, stride_, 0.0f);
    for (std::size_t k = 1; k <= harmonics; ++k) {
        const auto a = static_cast<float>(solution_[k - 1]);
        const auto b = static_cast<float>(solution_[harmonics + k - 1]);
        const float* c = &cos_[k * stride_];
        const float* s = &sin_[k * stride_];
        const auto order = static_cast<float>(k);
        for (std::size_t i = 0; i < stride_; ++i) {
            rest[i] -= a * c[i] + b * s[i];
            by_phase[i] += order * (b * c[i] - a * s[i]);
        }
    }
    float* by_f = c_far2;      // weighted derivatives by f and by s
    float* by_slope = s_far2;
    float* weighted_rest = weighted;
    float* plain_f = scratch_.data() + 5 * stride_;
    float* plain_slope = plain_f + stride_;
    for (std::size_t i = 0; i < stride_; ++i) {
        const float phase = static_cast<float>(kTwoPi) * time_[i] * by_phase[i];
        plain_f[i] = phase;
        plain_slope[i] = 0.5f * time_[i] * phase;
        by_f[i] = weight_[i] * plain_f[i];
        by_slope[i] = weight_[i] * plain_slope[i];
        weighted_rest[i] = weight_[i] * rest[i];
    }
    const double left_over = dot(weighted_rest, rest, stride_);
    double ff = dot(by_f, plain_f, stride_);
    double fs = dot(by_f, plain_slope, stride_);
    double ss = dot(by_slope, plain_slope, stride_);
    const double gf = dot(by_f, rest, stride_);
    const double gs = dot(by_slope, rest, stride_);
    double* cross_f = rhs_.data();
    double* cross_s = cross_f + kMostColumns;
    for (std::size_t k = 1; k <= harmonics; ++k) {
        cross_f[k - 1] = dot(by_f, &cos_[k * stride_], stride_);
        cross_f[harmonics + k - 1] = dot(by_f, &sin_[k * stride_], stride_);
        cross_s[k - 1] = dot(by_slope, &cos_[k * stride_], stride_);
        cross_s[harmonics + k - 1] = dot(by_slope, &sin_[k * stride_], stride_);
    }
    double* solved_f = solution_.data();
    double* solved_s = solved_f + kMostColumns;
    std::copy_n(cross_f, columns, solved_f);
    std::copy_n(cross_s, columns, solved_s);
    cholesky_solve(gram_, columns, {solved_f, columns});
    cholesky_solve(gram_, columns, {solved_s, columns});
    for (std::size_t i = 0; i < columns; ++i) {
        ff -= cross_f[i] * solved_f[i];
        fs -= cross_s[i] * solved_f[i];
        ss -= cross_s[i] * solved_s[i];
    }
    const double determinant = ff * ss - fs * fs;
    if (!(determinant > 1e-12 * ff * ss) || !(ff > 0.0)) return std::nullopt;
    return Step{
        .df_hz = (ss * gf - fs * gs) / determinant,
        .dslope_hz_per_s = (ff * gs - fs * gf) / determinant,
        .residual = left_over / (energy_ + 1e-30),
        .information = (ff - fs * fs / ss) / std::max(left_over, 1e-30),
    };
}

std::optional<RefinedF0> HarmonicFit::refine(Hertz guess, double slope, Hertz band) noexcept
{
    constexpr std::size_t kFirst = 5;  // few harmonics first: a wider pull
    constexpr double kLargestStep = 0.03;
    constexpr double kSteepest = 8.0;  // octave-like change a second, as a multiple of f0
    RefinedF0 result{guess, slope, 1.0, {}};
    for (int step = 0; step < 2; ++step) {
        const double f = result.f0.value;
        std::size_t harmonics =
            std::min<std::size_t>(14, static_cast<std::size_t>(std::max(1.0, band.value / f)));
        if (step == 0) harmonics = std::min(harmonics, kFirst);
        fill_base(result.f0, result.slope_hz_per_s);
        const std::optional<Step> found = gauss_newton_step(harmonics);
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
