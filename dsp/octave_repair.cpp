#include "dsp/octave_repair.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>

namespace holdwell {

namespace {

// Observed minus true, in semitones: right; f0/2, f0/3, f0/4, f0/5; 2 f0, 3 f0.
constexpr std::array<double, 7> kErrors{0.0, -12.0, -19.02, -24.0, -27.86, 12.0, 19.02};
constexpr std::size_t kStates = kErrors.size();

constexpr double kChange = 1.5;       // of state
constexpr double kWrongPoint = 0.15;  // every point in error
constexpr double kLeap = 6.0;         // the most that a movement costs
constexpr double kPerSemitone = 4.0;  // of movement beyond what a glide makes between two points
constexpr double kFreeSemitonesPerSecond = 10.0;  // a faster glide pays in every state alike
constexpr double kFreeSemitones = 0.15;
// Across a longer hole in the track a voice may begin anywhere.
constexpr double kHoleSeconds = 0.06;
constexpr double kLeapOverHole = 2.0;

double price_of_movement(const LinePoint& from, const LinePoint& to, double error_change_st)
{
    const double dt_s = to.at_s - from.at_s;
    const double moved = std::abs(to.st - from.st - error_change_st);
    const double beyond = std::max(0.0, moved - kFreeSemitones - kFreeSemitonesPerSecond * dt_s);
    return std::min(kPerSemitone * beyond, dt_s > kHoleSeconds ? kLeapOverHole : kLeap);
}

using Prices = std::array<double, kStates>;
using Origins = std::array<std::uint8_t, kStates>;

// One step of the search: the cheapest way into every state.
Origins advance(Prices& price, const LinePoint& from, const LinePoint& to)
{
    Origins origin{};
    Prices next{};
    for (std::size_t s = 0; s < kStates; ++s) {
        next[s] = std::numeric_limits<double>::max();
        for (std::size_t p = 0; p < kStates; ++p) {
            const double total = price[p] + (s == p ? 0.0 : kChange) +
                                 price_of_movement(from, to, kErrors[s] - kErrors[p]);
            if (total >= next[s]) continue;
            next[s] = total;
            origin[s] = static_cast<std::uint8_t>(p);
        }
        if (s > 0) next[s] += kWrongPoint;
    }
    price = next;
    return origin;
}

}  // namespace

PitchLine with_octaves_repaired(const PitchLine& line)
{
    PitchLine repaired = line;
    if (line.empty()) return repaired;
    Prices price;
    price.fill(kChange + kWrongPoint);
    price[0] = 0.0;
    std::vector<Origins> origins;
    for (std::size_t i = 1; i < line.size(); ++i) {
        origins.push_back(advance(price, line[i - 1], line[i]));
    }
    auto state =
        static_cast<std::size_t>(std::min_element(price.begin(), price.end()) - price.begin());
    for (std::size_t i = line.size(); i-- > 0;) {
        repaired[i].st -= kErrors[state];
        if (i > 0) state = origins[i - 1][state];
    }
    return repaired;
}

}  // namespace holdwell
