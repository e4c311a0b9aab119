#include "tests/bench/estimator_extras.h"

#include <malloc.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <ctime>

#include "dsp/frame_analyzer.h"
#include "tests/bench/parallel.h"
#include "tests/bench/pitch_checks.h"
#include "tests/bench/pitch_method.h"
#include "tests/support/allocation_guard.h"
#include "tests/support/cramer_rao.h"
#include "tests/support/pitch_gallery.h"

namespace holdwell::bench {

namespace {

using test::ScriptedTake;
constexpr SampleRate kRate{48'000.0};

void print_false_voicing(int files)
{
    std::printf("\nVoiced frames where nobody sounds, of ours (goal 0)\n");
    for (const test::VoicelessCategory& c : test::voiceless_categories()) {
        const auto parts = results_of(files, [&](int k) {
            const ScriptedTake take = test::make_take(c, k);
            const auto course = estimates_of(method_kinds().front(), take.samples, take.rate);
            return std::pair{
                std::ranges::count_if(course, [](auto& e) { return e.f0.has_value(); }),
                static_cast<std::ptrdiff_t>(course.size())};
        });
        std::ptrdiff_t voiced = 0;
        std::ptrdiff_t all = 0;
        for (const auto& [v, n] : parts) {
            voiced += v;
            all += n;
        }
        std::printf("%-16s %6td of %td %s\n", c.name.c_str(), voiced, all,
                    voiced == 0 ? "met" : "MISSED");
    }
}

void print_voicing(int files)
{
    const auto parts = results_of(files, [](int k) {
        const ScriptedTake take = test::make_voicing_take(k);
        const auto course = estimates_of(method_kinds().front(), take.samples, take.rate);
        return test::voicing_errors_of(course, take, 50ms);
    });
    test::VoicingErrors sum;
    for (const auto& p : parts) {
        sum.voiced_frames += p.voiced_frames;
        sum.missed += p.missed;
        sum.voiceless_frames += p.voiceless_frames;
        sum.falsely_voiced += p.falsely_voiced;
    }
    const double percent =
        100.0 * (sum.missed + sum.falsely_voiced) / (sum.voiced_frames + sum.voiceless_frames);
    std::printf("\nVoicing between breath and hiss: missed %d of %d, false %d of %d: %.3f %% "
                "(goal 0.1) %s\n",
                sum.missed, sum.voiced_frames, sum.falsely_voiced, sum.voiceless_frames, percent,
                percent <= 0.1 ? "met" : "MISSED");
}

void print_latency(const std::vector<std::string>& names, const std::vector<Seconds>& delays)
{
    std::printf("\nDelay: of the estimate against the truth (fitted on glides), and from an abrupt "
                "onset to the first estimate within 50 cents\n");
    for (std::size_t m = 0; m < names.size(); ++m) {
        const auto parts = results_of(
            12, [&](int k) { return waits_ms(method_kinds()[m], test::make_onset_take(k)); });
        std::vector<double> waits;
        for (const auto& p : parts) waits.insert(waits.end(), p.begin(), p.end());
        const Seconds delay = m == 0 ? fitted_delay(method_kinds()[0]) : delays[m];
        std::printf("%-10s delay %s %5.2f ms, onset median %4.0f, p90 %4.0f ms%s\n",
                    names[m].c_str(), m == 0 ? "left by the stamp" : "behind the newest sample",
                    1000.0 * delay.count(), test::quantile(waits, 0.5), test::quantile(waits, 0.9),
                    m != 0                               ? ""
                    : test::quantile(waits, 0.5) <= 33.0 ? " (goal 33) met"
                                                         : " (goal 33) MISSED");
    }
}

// On steady harmonics stepped through `steps` cents from `low`.
double greatest_bias(Hertz low, Cents step, int steps)
{
    const auto worst = results_of(steps, [&](int k) {
        return std::abs(bias_at(transposed(low, Cents{step.value * k})).value);
    });
    return *std::ranges::max_element(worst);
}

void print_bias()
{
    std::printf("\nBias in 1-cent steps over a semitone, greatest (goal 0.05 c):");
    for (const double hz : {98.0, 196.0, 349.0, 523.0, 784.0})
        std::printf("  %.0f Hz %.4f", hz, greatest_bias(Hertz{hz}, Cents{1.0}, 100));
    std::printf("\nBias in 10-cent steps from 80 to 800 Hz, greatest (goal 0.15 c): %.4f\n",
                greatest_bias(Hertz{80.0}, Cents{10.0}, 399));
}

std::vector<float> tone_in_noise(const test::HarmonicTone& tone, Decibels snr, Seconds length)
{
    constexpr double kBand_hz = 8000.0;  // the band in which the ratio is stated
    test::Random random{static_cast<std::uint64_t>(tone.f0.value + 1000.0 * snr.value)};
    double power = 0.0;
    for (const double a : tone.amplitudes) power += 0.5 * a * a;
    const double sigma = std::sqrt(power * kRate.hz / 2.0 / kBand_hz) / gain_of(snr);
    std::vector<double> phases;
    for (std::size_t k = 0; k < tone.amplitudes.size(); ++k)
        phases.push_back(random.uniform(0.0, 6.283185307179586));
    std::vector<float> x(static_cast<std::size_t>(samples_in(length, kRate).value));
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double angle = 6.283185307179586 * tone.f0.value * static_cast<double>(i) / kRate.hz;
        double sum = sigma * random.normal();
        for (std::size_t k = 0; k < phases.size(); ++k)
            sum += tone.amplitudes[k] * std::cos(static_cast<double>(k + 1) * angle + phases[k]);
        x[i] = static_cast<float>(0.1 * sum);
    }
    return x;
}

double spread_cents(const MethodKind& kind, const test::HarmonicTone& tone, Decibels snr)
{
    const auto x = tone_in_noise(tone, snr, Seconds{40.0});
    double squares = 0.0;
    double sum = 0.0;
    double count = 0.0;
    const auto course = estimates_of(kind, x, kRate);
    for (std::size_t k = 50; k < course.size(); ++k) {
        if (!course[k].f0) continue;
        const double c = interval_between(tone.f0, *course[k].f0).value;
        if (std::abs(c) > 100.0) continue;
        sum += c;
        squares += c * c;
        count += 1.0;
    }
    return std::sqrt(squares / count - (sum / count) * (sum / count));
}

void print_efficiency(const std::vector<std::string>& names)
{
    std::printf("\nWhite noise: standard deviation in cents (and as a multiple of the Cramer-Rao "
                "bound for 40 ms; goal 1.3, 1.5 at 0 dB)\n");
    for (const double f0_hz : {349.23, 174.61}) {
        const auto tone = test::tone_with_falling_harmonics(Hertz{f0_hz}, 10);
        for (const double snr_db : {40.0, 30.0, 20.0, 10.0, 0.0}) {
            const double bound =
                test::f0_bound(tone, 40ms, SampleRate{16'000.0}, Decibels{snr_db}).value;
            const auto spreads = results_of(static_cast<int>(names.size()), [&](int m) {
                const auto& kind = method_kinds()[static_cast<std::size_t>(m)];
                return spread_cents(kind, tone, Decibels{snr_db});
            });
            std::printf("%6.1f Hz %3.0f dB: bound %.4f", f0_hz, snr_db, bound);
            for (std::size_t m = 0; m < names.size(); ++m)
                std::printf(" | %s %.4f (%.2f)", names[m].c_str(), spreads[m], spreads[m] / bound);
            const double goal = snr_db > 0.0 ? 1.3 : 1.5;
            std::printf(" %s\n", spreads[0] <= goal * bound ? "met" : "MISSED");
        }
    }
}

Seconds processor_time()
{
    timespec t{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return Seconds{static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec)};
}

// Heap in use by the whole program, C libraries included.
std::size_t heap_in_use()
{
    const auto info = mallinfo2();
    return info.uordblks + info.hblkhd;
}

void print_state()
{
    constexpr double kGoal_kb = 100.0;
    for (const double rate_hz : {44'100.0, 48'000.0}) {
        const std::size_t heap_before = heap_in_use();
        const test::AllocationGuard guard;
        const FrameAnalyzer analyzer{{.sample_rate = {rate_hz}}};
        const double ours_kb = static_cast<double>(guard.bytes_kept()) / 1000.0;
        const double all_kb = static_cast<double>(heap_in_use() - heap_before) / 1000.0;
        std::printf("State of our chain at %.1f kHz: %.1f kB (goal %.0f) %s; with the plans and "
                    "buffers of aubio's transforms %.1f kB\n",
                    rate_hz / 1000.0, ours_kb, kGoal_kb, ours_kb <= kGoal_kb ? "met" : "MISSED",
                    all_kb);
    }
}

void print_preparation()
{
    const Seconds begin = processor_time();
    FrameAnalyzer analyzer{{.sample_rate = kRate}};
    const Seconds made = processor_time();
    analyzer.reset();
    const Seconds reset = processor_time();
    std::printf("Making our analyzer takes %.1f ms, resetting it %.1f ms\n",
                1000.0 * (made - begin).count(), 1000.0 * (reset - made).count());
}

void print_cost(const std::vector<std::string>& names)
{
    std::printf("\nProcessor time per second of audio, 48 kHz, hop 10 ms, one thread; best of 5\n");
    const ScriptedTake take = test::SignalScript{kRate, 11}
                                  .silence(1s)
                                  .voice({.f0 = test::drift(Hertz{220.0}, Cents{30.0}, 3),
                                          .jitter_percent = 0.5,
                                          .hnr = Decibels{20.0}},
                                         Seconds{8.0})
                                  .silence(1s)
                                  .with_noise(test::NoiseKind::room, Dbfs{-65.0})
                                  .build();
    print_state();
    print_preparation();
    double ours_ms = 0.0;
    for (std::size_t m = 0; m < names.size(); ++m) {
        double best_ms = 1e9;
        for (int round = 0; round < 5; ++round) {
            const Seconds begin = processor_time();
            (void)estimates_of(method_kinds()[m], take.samples, kRate);
            const Seconds spent = processor_time() - begin;
            best_ms = std::min(best_ms, 1000.0 * spent.count() / take.length().count());
        }
        if (m == 0) ours_ms = best_ms;
        std::printf("%-10s %7.3f ms (%5.2f of ours)%s\n", names[m].c_str(), best_ms,
                    best_ms / ours_ms,
                    m != 0           ? ""
                    : best_ms <= 5.0 ? " met (5)"
                                     : " MISSED (5)");
    }
}

}  // namespace

std::vector<Seconds> fitted_delays(std::size_t methods)
{
    std::vector<Seconds> delays = results_of(static_cast<int>(methods), [](int m) {
        return m == 0 ? Seconds{0.0} : fitted_delay(method_kinds()[static_cast<std::size_t>(m)]);
    });
    return delays;
}

void print_extras(const std::vector<std::string>& names, const std::vector<Seconds>& delays,
                  int files, Extras extras)
{
    print_false_voicing(files);
    print_voicing(files);
    print_latency(names, delays);
    print_cost(names);
    if (extras == Extras::quick) return;
    print_bias();
    print_efficiency(names);
}

}  // namespace holdwell::bench
