#include "tests/support/glottal_pulse.h"

#include <cmath>
#include <numbers>

namespace holdwell::test {

namespace {

constexpr double kPi = std::numbers::pi;

// Times as shares of the cycle.
struct Timing {
    double peak;        // t_p: flow is greatest
    double excitation;  // t_e
    double recovery;    // t_a
};

Timing timing_of(double r_d)
{
    const double r_a = (-1.0 + 4.8 * r_d) / 100.0;
    const double r_k = (22.4 + 11.8 * r_d) / 100.0;
    const double r_g = r_k / 4.0 * (0.5 + 1.2 * r_k) / (0.11 * r_d - r_a * (0.5 + 1.2 * r_k));
    const double peak = 1.0 / (2.0 * r_g);
    return {.peak = peak, .excitation = peak * (1.0 + r_k), .recovery = r_a};
}

// Solves epsilon t_a = 1 - exp(-epsilon (1 - t_e)) by fixed-point iteration.
double recovery_rate(const Timing& t)
{
    double epsilon = 1.0 / t.recovery;
    for (int i = 0; i < 100; ++i)
        epsilon = (1.0 - std::exp(-epsilon * (1.0 - t.excitation))) / t.recovery;
    return epsilon;
}

double open_phase(double t, double growth, const Timing& timing)
{
    const double w = kPi / timing.peak;
    return -std::exp(growth * (t - timing.excitation)) * std::sin(w * t) /
           std::sin(w * timing.excitation);
}

double return_phase(double t, double epsilon, const Timing& timing)
{
    return -(std::exp(-epsilon * (t - timing.excitation)) -
             std::exp(-epsilon * (1.0 - timing.excitation))) /
           (epsilon * timing.recovery);
}

double value_at(double t, double growth, double epsilon, const Timing& timing)
{
    return t < timing.excitation ? open_phase(t, growth, timing) : return_phase(t, epsilon, timing);
}

// The flow must return to where it began, so the derivative has no mean: found by bisection.
double growth_for_zero_mean(double epsilon, const Timing& timing)
{
    double low = -50.0;
    double high = 100.0;
    for (int i = 0; i < 60; ++i) {
        const double growth = 0.5 * (low + high);
        double sum = 0.0;
        for (int k = 0; k < 1000; ++k) sum += value_at((k + 0.5) / 1000.0, growth, epsilon, timing);
        // Faster growth makes the positive part smaller against the fixed excitation.
        (sum > 0.0 ? low : high) = growth;
    }
    return 0.5 * (low + high);
}

}  // namespace

GlottalPulse::GlottalPulse(double r_d)
{
    const Timing timing = timing_of(r_d);
    const double epsilon = recovery_rate(timing);
    const double growth = growth_for_zero_mean(epsilon, timing);
    table_.resize(kPoints + 2);
    for (int k = 0; k <= kPoints + 1; ++k) {
        const double phase = k <= kPoints ? static_cast<double>(k) / kPoints : 1.0;
        table_[static_cast<std::size_t>(k)] = value_at(phase, growth, epsilon, timing);
    }
}

}  // namespace holdwell::test
