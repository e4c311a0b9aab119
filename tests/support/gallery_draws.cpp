#include "tests/support/gallery_draws.h"

#include <cmath>

namespace holdwell::test {

Hertz any_f0(Random& random, double low_hz, double high_hz)
{
    return {low_hz * std::exp2(random.uniform(0.0, std::log2(high_hz / low_hz)))};
}

Tract any_tract(Random& random, Hertz f0)
{
    const auto vowel = static_cast<Vowel>(random.below(4));
    Tract tract = tract_of(vowel, f0.value < 165.0 ? Speaker::low : Speaker::high);
    const double scale = random.uniform(0.92, 1.08);
    for (Formant& f : tract) f.centre.value *= scale;
    return tract;
}

Voice plain_voice(Random& random, Hertz f0)
{
    return {.f0 = steady(f0), .tract = any_tract(random, f0), .r_d = random.uniform(0.6, 1.8)};
}

Voice natural_voice(Random& random, Hertz f0)
{
    Voice v = plain_voice(random, f0);
    v.jitter_percent = 0.5;
    v.shimmer_percent = 3.0;
    v.hnr = Decibels{20.0};
    return v;
}

std::uint64_t seed_of(std::string_view category, int index)
{
    std::uint64_t hash = 1469598103934665603ULL;  // FNV-1a
    for (const char c : category) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
    return hash + static_cast<std::uint64_t>(index);
}

SampleRate rate_of(int index) { return {index % 2 == 0 ? 48'000.0 : 44'100.0}; }

}  // namespace holdwell::test
