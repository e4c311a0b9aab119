#include "dsp/reference_tone.h"

#include <algorithm>
#include <array>
#include <complex>
#include <cstddef>
#include <numbers>

namespace holdwell {

namespace {

struct Formant {
    double centre_hz;
    double bandwidth_hz;
};
constexpr std::array<Formant, 3> kVowelOh{{{500.0, 90.0}, {900.0, 110.0}, {2500.0, 170.0}}};

double vowel_gain(double f_hz)
{
    double gain = 1.0;
    for (const Formant& formant : kVowelOh) {
        const double f2 = formant.centre_hz * formant.centre_hz;
        const std::complex<double> below{f2 - f_hz * f_hz, f_hz * formant.bandwidth_hz};
        gain *= f2 / std::abs(below);
    }
    return gain;
}

// Amplitude of harmonic 1, 2, ...; at least the fundamental.
std::vector<double> harmonic_amplitudes(const ReferenceTone& tone)
{
    const double highest_hz = std::min(kReferenceHighestPartial.value, 0.45 * tone.sample_rate.hz);
    std::vector<double> amplitudes{vowel_gain(tone.f0.value)};
    for (int k = 2; k * tone.f0.value <= highest_hz; ++k) {
        amplitudes.push_back(vowel_gain(k * tone.f0.value) / k);
    }
    return amplitudes;
}

std::vector<double> steady_tone(const ReferenceTone& tone, std::size_t length)
{
    const std::vector<double> amplitudes = harmonic_amplitudes(tone);
    std::vector<double> x(length, 0.0);
    for (std::size_t n = 0; n < length; ++n) {
        // The cycle's fraction, not the ever-growing phase: exact however long the tone is.
        const double cycles = tone.f0.value * static_cast<double>(n) / tone.sample_rate.hz;
        const double phase = 2.0 * std::numbers::pi * (cycles - std::floor(cycles));
        double harmonic = 1.0;
        for (const double amplitude : amplitudes) x[n] += amplitude * std::sin(phase * harmonic++);
    }
    return x;
}

double raised_cosine(double fraction)
{
    return 0.5 - 0.5 * std::cos(std::numbers::pi * std::clamp(fraction, 0.0, 1.0));
}

void fade_ends(std::vector<double>& x, SampleRate rate)
{
    const auto last = static_cast<double>(x.size() - 1);
    const Seconds both = kReferenceFadeIn + kReferenceFadeOut;
    const double shrink = std::min(1.0, last / (both.count() * rate.hz));
    const double fade_in = shrink * kReferenceFadeIn.count() * rate.hz;
    const double fade_out = shrink * kReferenceFadeOut.count() * rate.hz;
    for (std::size_t n = 0; n < x.size(); ++n) {
        const auto at = static_cast<double>(n);
        x[n] *= raised_cosine(at / fade_in) * raised_cosine((last - at) / fade_out);
    }
}

double peak_of(const std::vector<double>& x)
{
    double peak = 0.0;
    for (const double v : x) peak = std::max(peak, std::abs(v));
    return peak;
}

}  // namespace

std::vector<float> samples_of(const ReferenceTone& tone)
{
    const std::int64_t wanted = samples_in(tone.length, tone.sample_rate).value;
    std::vector<double> x =
        steady_tone(tone, static_cast<std::size_t>(std::max<std::int64_t>(wanted, 2)));
    fade_ends(x, tone.sample_rate);
    const double peak = peak_of(x);
    const double gain = peak > 0.0 ? kReferencePeak / peak : 0.0;
    std::vector<float> samples;
    samples.reserve(x.size());
    for (const double v : x) samples.push_back(static_cast<float>(gain * v));
    return samples;
}

}  // namespace holdwell
