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
constexpr double kHalfSpan_s = 0.020;  // half of what f0 is the mean of

// Jitter (local) of a healthy voice: 0.49 % in men, 0.62 % in women ("Standardization of acoustic
// measures for normal voice patterns", Braz. J. Otorhinolaryngol. 2006; abstract read, year from
// memory). With it goes a standard deviation of the period of sqrt(pi) / 2 times as much.
constexpr double kJitter = 0.005;
constexpr double kPeriodDeviation = kJitter * 0.886;
// The bend is disturbed by the faster jitter that no polynomial follows as well as by noise. Found
// on generated voices; half or twice as much changes little.
constexpr double kFasterJitter = 7.0;
// A voice is uneven when its bends are so many times what the noise explains; all of it from twice
// that on. Mean over the last frames.
constexpr double kUneven = 1.5;
constexpr double kMemory = 0.95;
constexpr double kLeastExpected = 1e-9;  // share of what is expected of an uneven voice

// Expected square of p_2 in an uneven voice, Hz^2. Periods that vary independently make an f0 of
// even spectrum, of which the polynomial of order m takes 2 m + 1 parts.
double expected_square_of_bend(double f0_hz)
{
    return 5.0 * kPeriodDeviation * kPeriodDeviation * f0_hz / (2.0 * kHalfSpan_s);
}

}  // namespace

HarmonicRefiner::HarmonicRefiner(SampleRate rate, std::size_t frame_length, double shape)
    : rate_hz_{rate.hz}, n_{frame_length}, stride_{padded(n_)}, place_(stride_, 0.0f),
      weight_{window_weights(n_, shape)}, heard_{stride_}, whitened_{stride_},
      turn_cos_(stride_, 0.0f), turn_sin_(stride_, 0.0f), cos_((kMost + 1) * kPiece, 0.0f),
      sin_((kMost + 1) * kPiece, 0.0f), gram_(kMostColumns * kMostColumns)
{
    const double middle = (static_cast<double>(n_) - 1.0) / 2.0;
    for (std::size_t i = 0; i < n_; ++i) {
        const double t_s = (static_cast<double>(i) - middle) / rate_hz_;
        place_[i] = static_cast<float>(t_s / kHalfSpan_s);
    }
    std::fill_n(cos_.begin(), kPiece, 1.0f);  // row 0; that of the sines is 0
}

void HarmonicRefiner::set(Fitted& fitted, std::span<const float> x) noexcept
{
    std::copy(x.begin(), x.end(), fitted.x.begin());
    for (std::size_t i = 0; i < stride_; ++i) fitted.weighted[i] = weight_[i] * fitted.x[i];
}

void HarmonicRefiner::turn(const Course& p) noexcept
{
    // The integrals of the Legendre polynomials from the middle.
    const auto phi = [&](double u) {
        return kTwoPi * kHalfSpan_s * u * (p[0] + 0.5 * u * p[1] + 0.5 * (u * u - 1.0) * p[2]);
    };
    const double middle = (static_cast<double>(n_) - 1.0) / 2.0;
    std::array<double, kCourse + 1> first{};
    for (std::size_t i = 0; i < first.size(); ++i) {
        first[i] = phi((static_cast<double>(i) - middle) / rate_hz_ / kHalfSpan_s);
    }
    BendingPhasor<kCourse> phasor{first};
    for (std::size_t i = 0; i < n_; ++i) {
        turn_cos_[i] = static_cast<float>(phasor.at().real());
        turn_sin_[i] = static_cast<float>(phasor.at().imag());
        phasor.advance();
    }
}

// The rows of the piece that begins there; its length.
HOLDWELL_WIDE std::size_t HarmonicRefiner::fill_rows(std::size_t begin,
                                                     std::size_t harmonics) noexcept
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
HOLDWELL_WIDE void HarmonicRefiner::add_far(Moments& moments, std::size_t begin, std::size_t count,
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
HOLDWELL_WIDE bool HarmonicRefiner::fit_amplitudes(std::size_t harmonics) noexcept
{
    Moments moments;
    std::array<LaneSum, kMostColumns> heard;
    std::array<LaneSum, kMostColumns> whitened;
    for (std::size_t begin = 0; begin < stride_; begin += kPiece) {
        const std::size_t count = fill_rows(begin, harmonics);
        const float* w = &weight_[begin];
        moments.even[0].add(w, cosines(0), count);
        for (std::size_t k = 1; k <= harmonics; ++k) {
            moments.even[k].add(w, cosines(k), count);
            moments.odd[k].add(w, sines(k), count);
            heard[k - 1].add(&heard_.weighted[begin], cosines(k), count);
            heard[harmonics + k - 1].add(&heard_.weighted[begin], sines(k), count);
            whitened[k - 1].add(&whitened_.weighted[begin], cosines(k), count);
            whitened[harmonics + k - 1].add(&whitened_.weighted[begin], sines(k), count);
        }
        add_far(moments, begin, count, harmonics);
    }
    fill_gram(moments, harmonics);
    const std::size_t columns = 2 * harmonics;
    if (!cholesky_factor(gram_, columns)) return false;
    for (std::size_t i = 0; i < columns; ++i) {
        heard_.amplitude[i] = heard[i].total();
        whitened_.amplitude[i] = whitened[i].total();
    }
    cholesky_solve(gram_, columns, heard_.amplitude);
    cholesky_solve(gram_, columns, whitened_.amplitude);
    return true;
}

HOLDWELL_WIDE void HarmonicRefiner::subtract_model(Fitted& fitted, std::size_t begin,
                                                   std::size_t count,
                                                   std::size_t harmonics) noexcept
{
    float* rest = &fitted.rest[begin];
    std::copy_n(&fitted.x[begin], count, rest);
    for (std::size_t k = 1; k <= harmonics; ++k) {
        const auto a = static_cast<float>(fitted.amplitude[k - 1]);
        const auto b = static_cast<float>(fitted.amplitude[harmonics + k - 1]);
        const float* c = cosines(k);
        const float* s = sines(k);
        for (std::size_t i = 0; i < count; ++i) rest[i] -= a * c[i] + b * s[i];
    }
}

// The derivatives of the whitened frame's model by p_m.
HOLDWELL_WIDE void HarmonicRefiner::differentiate_model(std::size_t begin, std::size_t count,
                                                        std::size_t harmonics) noexcept
{
    std::fill_n(by_phase_.begin(), count, 0.0f);
    for (std::size_t k = 1; k <= harmonics; ++k) {
        const auto order = static_cast<float>(k);
        const float a = order * static_cast<float>(whitened_.amplitude[k - 1]);
        const float b = order * static_cast<float>(whitened_.amplitude[harmonics + k - 1]);
        const float* c = cosines(k);
        const float* s = sines(k);
        for (std::size_t i = 0; i < count; ++i) by_phase_[i] += b * c[i] - a * s[i];
    }
    const auto scale = static_cast<float>(kTwoPi * kHalfSpan_s);
    for (std::size_t i = 0; i < count; ++i) {
        const float u = place_[begin + i];
        by_course_[0][i] = scale * u * by_phase_[i];
        by_course_[1][i] = 0.5f * u * by_course_[0][i];
        by_course_[2][i] = 0.5f * (u * u - 1.0f) * by_course_[0][i];
        for (std::size_t m = 0; m < kCourse; ++m) {
            weighted_by_course_[m][i] = weight_[begin + i] * by_course_[m][i];
        }
    }
}

HOLDWELL_WIDE HarmonicRefiner::Derivatives
HarmonicRefiner::differentiate(std::size_t harmonics) noexcept
{
    Derivatives d;
    for (std::size_t begin = 0; begin < stride_; begin += kPiece) {
        const std::size_t count = fill_rows(begin, harmonics);
        subtract_model(heard_, begin, count, harmonics);
        subtract_model(whitened_, begin, count, harmonics);
        differentiate_model(begin, count, harmonics);
        for (std::size_t m = 0; m < kCourse; ++m) {
            const float* by = weighted_by_course_[m].data();
            for (std::size_t l = 0; l <= m; ++l) {
                d.squares[m][l].add(by, by_course_[l].data(), count);
            }
            d.with_rest[m].add(by, &whitened_.rest[begin], count);
            for (std::size_t k = 1; k <= harmonics; ++k) {
                d.with_column[m][k - 1].add(by, cosines(k), count);
                d.with_column[m][harmonics + k - 1].add(by, sines(k), count);
            }
        }
    }
    return d;
}

// Weighted.
HOLDWELL_WIDE double HarmonicRefiner::energy_left(const Fitted& fitted) const noexcept
{
    std::array<float, kLanes> sum{};
    for (std::size_t i = 0; i < stride_; i += kLanes) {
        for (std::size_t j = 0; j < kLanes; ++j) {
            sum[j] += weight_[i + j] * fitted.rest[i + j] * fitted.rest[i + j];
        }
    }
    return LaneSum{sum}.total();
}

std::optional<HarmonicRefiner::Step> HarmonicRefiner::step(const Course& course,
                                                           std::size_t harmonics) noexcept
{
    const std::size_t columns = 2 * harmonics;
    turn(course);
    if (!fit_amplitudes(harmonics)) return std::nullopt;
    const Derivatives d = differentiate(harmonics);
    // What the amplitudes can explain of a derivative says nothing about the course. With the
    // factor L of their matrix that is the product of L^-1 times the derivatives' columns.
    std::array<std::array<double, kMostColumns>, kCourse> solved;
    CourseMatrix normal{};
    Course change{};
    for (std::size_t m = 0; m < kCourse; ++m) {
        for (std::size_t i = 0; i < columns; ++i) solved[m][i] = d.with_column[m][i].total();
        cholesky_forward(gram_, columns, solved[m]);
        for (std::size_t l = 0; l <= m; ++l) {
            double sum = d.squares[m][l].total();
            for (std::size_t i = 0; i < columns; ++i) sum -= solved[m][i] * solved[l][i];
            normal[m * kCourse + l] = sum;
        }
        change[m] = d.with_rest[m].total();
    }
    const double noise = energy_left(whitened_) / static_cast<double>(n_);
    const std::optional<Bend> bend = bend_without_expectation(course, {normal, change}, noise);
    if (!bend) return std::nullopt;
    const double pull = kFasterJitter * noise / (unevenness() * expected_square_of_bend(course[0]));
    normal[2 * kCourse + 2] += pull;
    change[2] -= pull * course[2];
    if (!cholesky_factor(normal, kCourse)) return std::nullopt;
    cholesky_solve(normal, kCourse, change);
    Course first_column{1.0};
    cholesky_solve(normal, kCourse, first_column);
    return Step{.change = change,
                .residual = energy_left(heard_) / energy_,
                .variance = noise * first_column[0],
                .bend = *bend};
}

void HarmonicRefiner::reset() noexcept
{
    seen_ = {};
    last_slope_ = 0.0;
}

// 0 .. 1: how much of a healthy voice's jitter the last frames showed.
double HarmonicRefiner::unevenness() const noexcept
{
    const double times_noise = seen_.square / std::max(seen_.noise, 1e-30);
    return std::clamp((times_noise - kUneven) / kUneven, kLeastExpected, 1.0);
}

std::optional<HarmonicRefiner::Bend>
HarmonicRefiner::bend_without_expectation(const Course& course, NormalEquations equations,
                                          double noise) noexcept
{
    if (!cholesky_factor(equations.matrix, kCourse)) return std::nullopt;
    cholesky_solve(equations.matrix, kCourse, equations.right);
    Course last_column{0.0, 0.0, 1.0};
    cholesky_solve(equations.matrix, kCourse, last_column);
    const double bend = (course[2] + equations.right[2]) / course[0];
    return Bend{bend * bend, noise * last_column[2] / (course[0] * course[0])};
}

void HarmonicRefiner::remember(const Bend& bend) noexcept
{
    seen_.square = kMemory * seen_.square + (1.0 - kMemory) * bend.square;
    seen_.noise = kMemory * seen_.noise + (1.0 - kMemory) * bend.noise;
}

std::optional<RefinedF0> HarmonicRefiner::refine(const FramePair& frame, Hertz guess,
                                                 Hertz band) noexcept
{
    set(heard_, frame.heard);
    set(whitened_, frame.whitened);
    energy_ = dot(heard_.weighted.data(), heard_.x.data(), stride_);
    if (!(energy_ > 1e-20)) return std::nullopt;
    RefinedF0 result;
    Course course{guess.value, last_slope_ * guess.value};
    Bend bend;
    for (int round = 0; round < kSteps; ++round) {
        const double f = course[0];
        const auto below_band = static_cast<std::size_t>(std::max(1.0, band.value / f));
        const std::size_t harmonics = std::min(round == 0 ? kFirstHarmonics : kMost, below_band);
        const std::optional<Step> found = step(course, harmonics);
        if (!found) return std::nullopt;
        course[0] += std::clamp(found->change[0], -kLargestStep * f, kLargestStep * f);
        const double steepest = kSteepest * f * kHalfSpan_s;
        for (std::size_t m = 1; m < kCourse; ++m) {
            course[m] = std::clamp(course[m] + found->change[m], -steepest, steepest);
        }
        result.residual = std::clamp(found->residual, 0.0, 1.0);
        result.error.value = std::sqrt(found->variance);
        bend = found->bend;
    }
    remember(bend);
    last_slope_ = course[1] / course[0];
    result.f0.value = course[0];
    result.slope_hz_per_s = course[1] / kHalfSpan_s;
    return result;
}

}  // namespace holdwell
