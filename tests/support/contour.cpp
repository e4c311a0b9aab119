// The courses of f0 declared in voice.h.

#include <cmath>
#include <numbers>

#include "tests/support/random.h"
#include "tests/support/voice.h"

namespace holdwell::test {

namespace {
constexpr double kTurn = 2.0 * std::numbers::pi;
}

Contour steady(Hertz f0)
{
    return [f0](Seconds) { return f0; };
}

Contour glide(Hertz first, Hertz last, Seconds length)
{
    const double octaves = std::log2(last.value / first.value);
    return [=](Seconds t) { return Hertz{first.value * std::exp2(octaves * (t / length))}; };
}

Contour swell(Hertz low, Hertz high, Seconds length)
{
    const double octaves = std::log2(high.value / low.value);
    return [=](Seconds t) {
        const double share = 0.5 - 0.5 * std::cos(kTurn * (t / length));
        return Hertz{low.value * std::exp2(octaves * share)};
    };
}

Contour vibrato(Hertz f0, Wave wave)
{
    return [=](Seconds t) {
        const double cents = wave.depth.value * std::sin(kTurn * wave.rate.value * t.count());
        return transposed(f0, Cents{cents});
    };
}

Contour drift(Hertz f0, Cents sd, std::uint64_t seed)
{
    struct Sine {
        double rate_hz, phase;
    };
    constexpr int kSines = 6;
    Random random{seed};
    std::array<Sine, kSines> sines{};
    for (Sine& s : sines) s = {random.uniform(0.1, 1.5), random.uniform(0.0, kTurn)};
    const double height = sd.value * std::sqrt(2.0 / kSines);
    return [=](Seconds t) {
        double cents = 0.0;
        for (const Sine& s : sines)
            cents += height * std::sin(kTurn * s.rate_hz * t.count() + s.phase);
        return transposed(f0, Cents{cents});
    };
}

Contour joined(Contour first, Seconds at, Contour second)
{
    return [first = std::move(first), at, second = std::move(second)](Seconds t) {
        return t < at ? first(t) : second(t - at);
    };
}

Tract tract_of(Vowel vowel, Speaker speaker)
{
    struct Row {
        double f1_hz, f2_hz, f3_hz;
    };
    struct Widths {
        double b1_hz, b2_hz, b3_hz;
    };
    // In the order of Vowel: a, i, u, o.
    constexpr std::array kLow{Row{730, 1090, 2440}, Row{270, 2290, 3010}, Row{300, 870, 2240},
                              Row{450, 800, 2500}};
    constexpr std::array kHigh{Row{850, 1220, 2810}, Row{310, 2790, 3310}, Row{370, 950, 2670},
                               Row{500, 900, 2800}};
    constexpr std::array kWidths{Widths{130, 70, 160}, Widths{60, 200, 300}, Widths{65, 110, 140},
                                 Widths{80, 70, 100}};
    const auto index = static_cast<std::size_t>(vowel);
    const Row& row = speaker == Speaker::low ? kLow[index] : kHigh[index];
    const Widths& width = kWidths[index];
    const double upper = speaker == Speaker::low ? 1.0 : 1.15;
    return {Formant{{row.f1_hz}, {width.b1_hz}}, Formant{{row.f2_hz}, {width.b2_hz}},
            Formant{{row.f3_hz}, {width.b3_hz}}, Formant{{3500.0 * upper}, {200.0}},
            Formant{{4500.0 * upper}, {250.0}}};
}

Seconds audible_after(Seconds ramp)
{
    // (1 - cos(pi x)) / 2 = 0.1
    return ramp * (std::acos(0.8) / std::numbers::pi);
}

}  // namespace holdwell::test
