#pragma once
// What the galleries of test recordings draw from a random source.

#include <cstdint>
#include <string_view>

#include "tests/support/random.h"
#include "tests/support/voice.h"

namespace holdwell::test {

// Even in log frequency.
Hertz any_f0(Random& random, double low_hz, double high_hz);
// One of four vowels, of a vocal tract 8 % shorter to 8 % longer than the usual.
Tract any_tract(Random& random, Hertz f0);
// Without perturbation.
Voice plain_voice(Random& random, Hertz f0);
// Jitter 0.5 %, shimmer 3 %, HNR 20 dB: a healthy untrained voice.
Voice natural_voice(Random& random, Hertz f0);

// Files are numbered within a named category; every odd one is at 44.1 kHz, the others at 48.
std::uint64_t seed_of(std::string_view category, int index);
SampleRate rate_of(int index);

}  // namespace holdwell::test
