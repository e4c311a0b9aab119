#include "tests/support/voice.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <span>

#include "tests/support/glottal_pulse.h"
#include "tests/support/random.h"

namespace holdwell::test {

namespace {

constexpr double kPi = std::numbers::pi;
constexpr int kOversampling = 4;

// Modified Bessel function of order zero, for the Kaiser window.
double bessel_i0(double x)
{
    double sum = 1.0;
    double term = 1.0;
    for (int k = 1; k < 30; ++k) {
        term *= (x / (2.0 * k)) * (x / (2.0 * k));
        sum += term;
    }
    return sum;
}

// Low pass at 0.45 of the lower rate, 129 taps, about 80 dB down from 0.55 on.
std::vector<double> decimation_taps()
{
    constexpr int kHalf = 64;
    constexpr double kCorner = 0.5 / kOversampling;  // cycles a sample
    constexpr double kBeta = 8.0;
    std::vector<double> taps;
    double sum = 0.0;
    for (int n = -kHalf; n <= kHalf; ++n) {
        const double x = 2.0 * kCorner * n;
        const double sinc = n == 0 ? 1.0 : std::sin(kPi * x) / (kPi * x);
        const double place = static_cast<double>(n) / (kHalf + 1);
        taps.push_back(sinc * bessel_i0(kBeta * std::sqrt(1.0 - place * place)));
        sum += taps.back();
    }
    for (double& t : taps) t /= sum;
    return taps;
}

// `dense` carries half a filter length more than needed at each end: no delay remains.
std::vector<double> decimated(std::span<const double> dense, std::size_t count)
{
    static const std::vector<double> taps = decimation_taps();
    std::vector<double> out(count);
    for (std::size_t n = 0; n < count; ++n) {
        const double* from = dense.data() + n * kOversampling;
        double lanes[4] = {};
        for (std::size_t k = 0; k + 3 < taps.size(); k += 4)
            for (std::size_t j = 0; j < 4; ++j) lanes[j] += taps[k + j] * from[k + j];
        out[n] = lanes[0] + lanes[1] + lanes[2] + lanes[3] + taps.back() * from[taps.size() - 1];
    }
    return out;
}

// Deviates for cycle after cycle.
class Perturbation {
public:
    Perturbation(const Voice& voice, std::uint64_t seed) : voice_{voice}, random_{seed} {}

    void begin_cycle()
    {
        const double side = odd_ ? 1.0 : -1.0;
        odd_ = !odd_;
        const double to_sd = std::sqrt(kPi) / 2.0 / 100.0;
        period_ = (1.0 + voice_.jitter_percent * to_sd * random_.normal()) *
                  (1.0 + side * voice_.diplophonia.period);
        amplitude_ = (1.0 + voice_.shimmer_percent * to_sd * random_.normal()) *
                     (1.0 + side * voice_.diplophonia.amplitude);
    }
    double period() const { return period_; }
    double amplitude() const { return amplitude_; }

private:
    const Voice& voice_;
    Random random_;
    bool odd_{false};
    double period_{1.0};
    double amplitude_{1.0};
};

constexpr std::size_t kMargin = 64;  // half the decimation filter, in dense samples

RenderedVoice render_pulses(const Voice& voice, std::size_t count, SampleRate rate,
                            std::uint64_t seed)
{
    const GlottalPulse pulse{voice.r_d};
    Perturbation cycle{voice, seed};
    cycle.begin_cycle();
    RenderedVoice out{{}, PhaseTrack{SampleIndex{}, rate}};
    std::vector<double> dense(count * kOversampling + 2 * kMargin);
    double phase = Random{seed ^ 0x5157}.uniform(0.0, 1.0);
    double whole_cycles = 0.0;
    double f0_hz = 0.0;
    for (std::size_t i = 0; i < dense.size(); ++i) {
        const double since = (static_cast<double>(i) - kMargin) / kOversampling;
        if (i % kOversampling == 0) {
            f0_hz = voice.f0(Seconds{std::max(0.0, since + 0.5) / rate.hz}).value;
            if (i >= kMargin) out.phase.append_sample(whole_cycles + phase);
        }
        dense[i] = cycle.amplitude() * pulse.at(phase);
        phase += f0_hz / (cycle.period() * rate.hz * kOversampling);
        if (phase >= 1.0) {
            phase -= 1.0;
            whole_cycles += 1.0;
            cycle.begin_cycle();
        }
    }
    out.samples = decimated(dense, count);
    return out;
}

using Weights = std::vector<std::complex<double>>;

// Amplitudes and fixed phases of the harmonics that lie below 0.45 of the rate throughout.
class HarmonicWeights {
public:
    HarmonicWeights(const Voice& voice, SampleRate rate, std::uint64_t seed)
        : voice_{voice}, highest_hz_{0.45 * rate.hz}
    {
        Random random{seed ^ 0x4a2f};
        for (double hz = 0.0; hz < highest_hz_; hz += kLowest_hz)
            turns_.push_back(std::polar(1.0, random.uniform(0.0, 2.0 * kPi)));
    }

    // Fading out over the last tenth below the limit, so that no harmonic ends with a click.
    void find(double f0_hz, Weights& weights) const
    {
        weights.clear();
        for (std::size_t k = 1; k < turns_.size() && static_cast<double>(k) * f0_hz < highest_hz_;
             ++k) {
            const double hz = static_cast<double>(k) * f0_hz;
            double height = 1.0 / static_cast<double>(k * k);
            for (const Formant& f : voice_.tract) height *= resonance_gain(f, Hertz{hz});
            height *= std::min(1.0, (1.0 - hz / highest_hz_) * 10.0);
            weights.push_back(height * turns_[k]);
        }
    }

private:
    static constexpr double kLowest_hz = 40.0;
    const Voice& voice_;
    double highest_hz_;
    Weights turns_;
};

// Sum of weight k times turn to the power k + 1, the weights a share on their way to `next`.
double harmonic_sum(std::complex<double> turn, const Weights& now, const Weights& next,
                    double share)
{
    double re = turn.real();
    double im = turn.imag();
    double sum = 0.0;
    const std::size_t count = std::min(now.size(), next.size());
    for (std::size_t k = 0; k < count; ++k) {
        const double a = now[k].real() + share * (next[k].real() - now[k].real());
        const double b = now[k].imag() + share * (next[k].imag() - now[k].imag());
        sum += a * re - b * im;
        const double turned = re * turn.real() - im * turn.imag();
        im = re * turn.imag() + im * turn.real();
        re = turned;
    }
    return sum;
}

RenderedVoice render_harmonics(const Voice& voice, std::size_t count, SampleRate rate,
                               std::uint64_t seed)
{
    constexpr std::size_t kBlock = 64;  // samples between looks at the tract
    RenderedVoice out{std::vector<double>(count), PhaseTrack{SampleIndex{}, rate}};
    const HarmonicWeights tract{voice, rate, seed};
    const auto f0_hz_at = [&](double sample) { return voice.f0(Seconds{sample / rate.hz}).value; };
    Weights now;
    Weights next;
    tract.find(f0_hz_at(0.0), next);
    double cycles = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
        if (i % kBlock == 0) {
            now = next;
            const double end_hz = f0_hz_at(static_cast<double>(i + kBlock));
            if (end_hz != f0_hz_at(static_cast<double>(i))) tract.find(end_hz, next);
        }
        out.phase.append_sample(cycles);
        const auto turn = std::polar(1.0, 2.0 * kPi * (cycles - std::floor(cycles)));
        const double share = static_cast<double>(i % kBlock) / kBlock;
        out.samples[i] = harmonic_sum(turn, now, next, share);
        cycles += f0_hz_at(static_cast<double>(i) + 0.5) / rate.hz;
    }
    return out;
}

void through_tract(const Tract& tract, SampleRate rate, std::span<double> x)
{
    for (const Formant& f : tract)
        if (f.centre.value < 0.45 * rate.hz) filter_in_place(resonator(f, rate), x);
}

double mean_square(std::span<const double> x)
{
    double sum = 0.0;
    for (const double v : x) sum += v * v;
    return x.empty() ? 0.0 : sum / static_cast<double>(x.size());
}

void add_aspiration(const Voice& voice, SampleRate rate, std::uint64_t seed,
                    std::vector<double>& samples)
{
    Random random{seed ^ 0x7a11};
    std::vector<double> air(samples.size());
    for (double& v : air) v = random.normal();
    through_tract(voice.tract, rate, air);
    const double wanted = mean_square(samples) / std::pow(10.0, voice.hnr->value / 10.0);
    const double gain = std::sqrt(wanted / mean_square(air));
    for (std::size_t i = 0; i < air.size(); ++i) samples[i] += gain * air[i];
}

double raised_cosine(double place)
{
    if (place <= 0.0) return 0.0;
    return place >= 1.0 ? 1.0 : 0.5 - 0.5 * std::cos(kPi * place);
}

double gap_factor(const std::vector<Gap>& gaps, double t_s)
{
    constexpr double kRamp_s = 0.005;
    double factor = 1.0;
    for (const Gap& g : gaps) {
        const double from = g.at.count();
        const double to = from + g.length.count();
        if (t_s > from && t_s < to)
            factor = raised_cosine(
                std::max((from + kRamp_s - t_s) / kRamp_s, (t_s - to + kRamp_s) / kRamp_s));
    }
    return factor;
}

void shape(const Voice& voice, Seconds length, SampleRate rate, std::vector<double>& samples)
{
    const double gain = std::sqrt(mean_square_of(voice.level) / mean_square(samples));
    for (std::size_t i = 0; i < samples.size(); ++i) {
        const double t_s = static_cast<double>(i) / rate.hz;
        const double rise = raised_cosine(t_s / std::max(1e-9, voice.attack.count()));
        const double fall =
            raised_cosine((length.count() - t_s) / std::max(1e-9, voice.decay.count()));
        const double loud = voice.loudness ? gain_of(voice.loudness(Seconds{t_s})) : 1.0;
        samples[i] *= gain * rise * fall * loud * gap_factor(voice.gaps, t_s);
    }
}

}  // namespace

RenderedVoice render(const Voice& voice, Seconds length, SampleRate rate, std::uint64_t seed)
{
    const auto count = static_cast<std::size_t>(samples_in(length, rate).value);
    RenderedVoice out = voice.source == Source::pulses ? render_pulses(voice, count, rate, seed)
                                                       : render_harmonics(voice, count, rate, seed);
    if (voice.source == Source::pulses) through_tract(voice.tract, rate, out.samples);
    if (voice.hnr) add_aspiration(voice, rate, seed, out.samples);
    shape(voice, length, rate, out.samples);
    return out;
}

}  // namespace holdwell::test
