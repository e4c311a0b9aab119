#include "dsp/reference_tone.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <span>

#include "dsp/tuning.h"

using namespace holdwell;

namespace {

// Hann-weighted Fourier coefficient of x at f; `first` is the index of x[0] in the whole tone, so
// that two windows' phases are comparable.
std::complex<double> coefficient(std::span<const float> x, std::size_t first,
                                 double cycles_per_sample)
{
    std::complex<double> sum{};
    for (std::size_t n = 0; n < x.size(); ++n) {
        const double w = 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * static_cast<double>(n) /
                                              static_cast<double>(x.size()));
        const double turns = cycles_per_sample * static_cast<double>(n + first);
        sum += w * static_cast<double>(x[n]) * std::polar(1.0, -2.0 * std::numbers::pi * turns);
    }
    return sum;
}

// f0 of a steady tone from the phase that its fundamental gains between two windows, against a
// guess within 1 / (2 * spacing): no estimator of ours is involved.
Hertz f0_by_phase(std::span<const float> x, Hertz guess, SampleRate rate)
{
    const std::size_t window = static_cast<std::size_t>(rate.hz / 4);
    const std::size_t early = static_cast<std::size_t>(rate.hz / 5);
    const std::size_t spacing = window;
    const double turns = guess.value / rate.hz;
    const auto a = coefficient(x.subspan(early, window), early, turns);
    const auto b = coefficient(x.subspan(early + spacing, window), early + spacing, turns);
    const double gained = std::arg(b / a) / (2.0 * std::numbers::pi);
    return {guess.value + gained * rate.hz / static_cast<double>(spacing)};
}

double magnitude_at(std::span<const float> x, Hertz f, SampleRate rate)
{
    return std::abs(coefficient(x, 0, f.value / rate.hz));
}

double largest_step(std::span<const float> x)
{
    double largest = 0.0;
    for (std::size_t n = 1; n < x.size(); ++n) {
        largest = std::max(largest, std::abs(static_cast<double>(x[n]) - x[n - 1]));
    }
    return largest;
}

struct Row {
    const char* name;
    Note note;
    SampleRate rate;
};
constexpr std::array<Row, 6> kRows{{{"C2 at 48 kHz", Note{36}, {48'000.0}},
                                    {"F3 at 48 kHz", Note{53}, {48'000.0}},
                                    {"F4 at 44.1 kHz", Note{65}, {44'100.0}},
                                    {"F4 at 48 kHz", Note{65}, {48'000.0}},
                                    {"G4 at 48 kHz", Note{67}, {48'000.0}},
                                    {"C6 at 44.1 kHz", Note{84}, {44'100.0}}}};

}  // namespace

TEST_CASE("the note to match has exactly the frequency of the note")
{
    for (const Row& row : kRows) {
        CAPTURE(row.name);
        const auto x = samples_of({frequency_of(row.note), 1.5s, row.rate});
        // The guess is a third of a cent off, so that a copy of the guess would not pass.
        const Hertz guess = transposed(frequency_of(row.note), Cents{0.33});
        const Cents error =
            interval_between(frequency_of(row.note), f0_by_phase(x, guess, row.rate));
        CHECK(std::abs(error.value) < 0.001);  // frequency: ISO 16, equal temperament
    }
}

TEST_CASE("the note to match begins and ends at zero and without a click")
{
    for (const Row& row : kRows) {
        CAPTURE(row.name);
        const auto x = samples_of({frequency_of(row.note), 1.5s, row.rate});
        CHECK(x.front() == 0.0f);
        CHECK(std::abs(x.back()) < 1e-9f);
        // In the first and last 5 ms of a raised cosine of T >= 60 ms the gain is below
        // (pi * 5 / (2 * 60))^2 = 0.017 by its formula, so no sample is above 0.017 of the peak.
        const auto edge = static_cast<std::size_t>(0.005 * row.rate.hz);
        const std::span<const float> all{x};
        for (const float v : all.first(edge)) CHECK(std::abs(v) < 0.017 * kReferencePeak);
        for (const float v : all.last(edge)) CHECK(std::abs(v) < 0.017 * kReferencePeak);
        const auto middle = all.subspan(x.size() / 3, x.size() / 3);
        CHECK(largest_step(all) <= 1.001 * largest_step(middle));
    }
}

TEST_CASE("the note to match swells over at least 60 ms and dies away over at least 150 ms")
{
    const SampleRate rate{48'000.0};
    const auto x = samples_of({frequency_of(kF3), 1.5s, rate});
    const std::span<const float> all{x};
    const auto peak_in = [&](std::size_t first, Seconds length) {
        float peak = 0.0f;
        for (const float v :
             all.subspan(first, static_cast<std::size_t>(samples_in(length, rate).value)))
            peak = std::max(peak, std::abs(v));
        return static_cast<double>(peak);
    };
    // Half way through a raised cosine its gain is one half; the last period before that is less.
    CHECK(peak_in(0, 30ms) < 0.5 * kReferencePeak);
    CHECK(peak_in(x.size() - 3600, 75ms) < 0.5 * kReferencePeak);
    CHECK(peak_in(x.size() / 2, 20ms) > 0.98 * kReferencePeak);
}

TEST_CASE("the note to match never clips and is loud enough to hear")
{
    for (const Row& row : kRows) {
        CAPTURE(row.name);
        const auto x = samples_of({frequency_of(row.note), 1.0s, row.rate});
        const auto [low, high] = std::minmax_element(x.begin(), x.end());
        CHECK(std::max(-*low, *high) == doctest::Approx(kReferencePeak).epsilon(1e-6));
        double sum = 0.0;
        for (const float v : x) sum += static_cast<double>(v) * static_cast<double>(v);
        const Dbfs level = level_of(sum / static_cast<double>(x.size()));
        CHECK(level > Dbfs{-20.0});  // common practice, no source: alignment level is -18 or -20
    }
}

TEST_CASE("the note to match has the colour of a vowel, not of a bare sine")
{
    const SampleRate rate{48'000.0};
    const Hertz f0{110.0};
    const auto x = samples_of({f0, 1.0s, rate});
    const double first = magnitude_at(x, f0, rate);
    const double at_first_formant = magnitude_at(x, {5.0 * f0.value}, rate);
    const double above = magnitude_at(x, {15.0 * f0.value}, rate);
    CHECK(at_first_formant > 0.5 * first);   // the first formant of a back vowel, near 500 Hz
    CHECK(above < 0.05 * at_first_formant);  // the dark region between 1.2 and 2.2 kHz of "oh"
}

TEST_CASE("a note shorter than its fades is still a whole, quiet-edged note")
{
    const auto x = samples_of({frequency_of(kF4), 100ms, {48'000.0}});
    CHECK(x.size() == 4800);
    CHECK(x.front() == 0.0f);
    CHECK(std::abs(x.back()) < 1e-9f);
    CHECK(*std::max_element(x.begin(), x.end()) <= static_cast<float>(kReferencePeak) + 1e-6f);
}
