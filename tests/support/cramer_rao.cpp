#include "tests/support/cramer_rao.h"

#include <cmath>
#include <numbers>

#include "tests/support/random.h"

namespace holdwell::test {

namespace {

using Column = std::vector<double>;
constexpr double kTurn = 2.0 * std::numbers::pi;

double dot(const Column& a, const Column& b)
{
    double sum = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
    return sum;
}

void take_away(Column& x, const Column& unit)
{
    const double share = dot(x, unit);
    for (std::size_t i = 0; i < x.size(); ++i) x[i] -= share * unit[i];
}

// Gram-Schmidt, twice over for accuracy.
void make_orthonormal(std::vector<Column>& columns)
{
    for (std::size_t k = 0; k < columns.size(); ++k) {
        for (int round = 0; round < 2; ++round)
            for (std::size_t j = 0; j < k; ++j) take_away(columns[k], columns[j]);
        const double norm = std::sqrt(dot(columns[k], columns[k]));
        for (double& v : columns[k]) v /= norm;
    }
}

// |P d|^2 for one draw of phases.
double unexplained_derivative(const HarmonicTone& tone, const Column& times_s, Random& random)
{
    std::vector<Column> basis;
    Column derivative(times_s.size());
    for (std::size_t k = 0; k < tone.amplitudes.size(); ++k) {
        const double w = kTurn * static_cast<double>(k + 1);
        const double phase = random.uniform(0.0, kTurn);
        Column cosine(times_s.size());
        Column sine(times_s.size());
        for (std::size_t n = 0; n < times_s.size(); ++n) {
            const double angle = w * tone.f0.value * times_s[n];
            cosine[n] = std::cos(angle);
            sine[n] = std::sin(angle);
            derivative[n] -= w * times_s[n] * tone.amplitudes[k] * std::sin(angle + phase);
        }
        basis.push_back(std::move(cosine));
        basis.push_back(std::move(sine));
    }
    make_orthonormal(basis);
    for (const Column& b : basis) take_away(derivative, b);
    return dot(derivative, derivative);
}

}  // namespace

HarmonicTone tone_with_falling_harmonics(Hertz f0, int harmonics)
{
    HarmonicTone tone{f0, {}};
    for (int k = 1; k <= harmonics; ++k) tone.amplitudes.push_back(1.0 / k);
    return tone;
}

Cents f0_bound(const HarmonicTone& tone, Seconds window, SampleRate rate, Decibels snr)
{
    constexpr int kDraws = 8;
    Column times_s(static_cast<std::size_t>(samples_in(window, rate).value));
    for (std::size_t n = 0; n < times_s.size(); ++n)
        times_s[n] =
            (static_cast<double>(n) - 0.5 * static_cast<double>(times_s.size() - 1)) / rate.hz;
    double power = 0.0;
    for (const double a : tone.amplitudes) power += 0.5 * a * a;
    const double sigma = std::sqrt(power) / gain_of(snr);
    Random random{1};
    double sum_hz = 0.0;
    for (int draw = 0; draw < kDraws; ++draw)
        sum_hz += sigma / std::sqrt(unexplained_derivative(tone, times_s, random));
    return interval_between(tone.f0, Hertz{tone.f0.value + sum_hz / kDraws});
}

}  // namespace holdwell::test
