#include "app/ui/ear_state.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace holdwell {
namespace {

constexpr std::size_t kSecond = 100;  // hops
constexpr Decibels kOverRoom{12.0};   // a breath or a word is not so loud for so long
constexpr Decibels kSteadyWithin{2.0};
constexpr std::size_t kTenth = 10;

double stepped(double value, double by, double lowest, double highest)
{
    return std::clamp(value + by, lowest, highest);
}

Weighting next_of(Weighting w, int by)
{
    constexpr int kWeightings = 3;
    const int place = (static_cast<int>(w) + by + kWeightings) % kWeightings;
    return static_cast<Weighting>(place);
}

Dbfs mean_of(std::deque<Dbfs>::const_iterator from, std::size_t n)
{
    double power = 0.0;
    for (std::size_t i = 0; i < n; ++i) power += mean_square_of(*(from + static_cast<long>(i)));
    return level_of(power / static_cast<double>(n));
}

}  // namespace

EarState after_frame(EarState ear, const FrameHeard& frame, Stage stage)
{
    const FrameReading& r = frame.reading;
    ear.loudness = frame.loudness;
    const bool sounds = r.level - r.noise_floor >= kOverRoom;
    ear.unclear =
        stage == Stage::ready && sounds && !r.f0 ? ear.unclear + Seconds{10ms} : Seconds{};
    ear.level.recent.push_back(r.hop_level);
    while (ear.level.recent.size() > kSecond) ear.level.recent.pop_front();
    return ear;
}

std::optional<Dbfs> steady_level(const MeterReading& reading)
{
    if (reading.recent.size() < kSecond) return std::nullopt;
    double softest = 0.0, loudest = kDigitalSilence.value;
    for (std::size_t i = 0; i + kTenth <= kSecond; i += kTenth) {
        const auto from = reading.recent.begin() + static_cast<long>(i);
        const double tenth = mean_of(from, kTenth).value;
        softest = std::min(softest, tenth);
        loudest = std::max(loudest, tenth);
    }
    if (loudest - softest > kSteadyWithin.value) return std::nullopt;
    return mean_of(reading.recent.begin(), kSecond);
}

MeterReading with_step(MeterReading reading, LevelRow row, int by)
{
    reading.said.clear();
    switch (row) {
    case LevelRow::meter:
        reading.meter = {stepped(reading.meter.value, by, 30.0, 130.0)};
        break;
    case LevelRow::weighting:
        reading.weighting = next_of(reading.weighting, by);
        break;
    case LevelRow::distance: {
        const double cm = std::round(reading.distance.value * 100.0);
        const double step = cm + by < 10.0 ? 1.0 : 5.0;
        reading.distance = {stepped(cm, by * step, 3.0, 300.0) / 100.0};
        break;
    }
    case LevelRow::heard:
        break;
    }
    return reading;
}

}  // namespace holdwell
