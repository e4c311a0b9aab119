#include "tests/dsp/hiss_material.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>

#include "tests/support/filters.h"

namespace holdwell::test {

namespace {

double rms_of(const std::vector<double>& x)
{
    double sum = 0.0;
    for (const double v : x) sum += v * v;
    return x.empty() ? 0.0 : std::sqrt(sum / static_cast<double>(x.size()));
}

void scale(std::vector<double>& x, double gain)
{
    for (double& v : x) v *= gain;
}

std::size_t samples_of(Seconds t)
{
    return static_cast<std::size_t>(samples_in(t, kHissRate).value);
}

void add_at(std::vector<double>& mix, const std::vector<double>& x, std::size_t at)
{
    for (std::size_t i = 0; i < x.size() && at + i < mix.size(); ++i) mix[at + i] += x[i];
}

}  // namespace

HissColour some_colour(Random& random)
{
    return {Hertz{random.uniform(3200.0, 5500.0)}, Hertz{random.uniform(8000.0, 14'000.0)},
            Decibels{random.uniform(-30.0, -16.0)}};
}

std::vector<double> coloured_hiss(const HissColour& colour, Seconds length, std::uint64_t seed)
{
    std::vector<double> x = noise(NoiseKind::white, length, kHissRate, seed);
    filter_in_place(high_pass(colour.from, kHissRate), x);
    filter_in_place(high_pass(colour.from, kHissRate), x);
    filter_in_place(low_pass(colour.to, kHissRate), x);
    scale(x, 1.0 / rms_of(x));
    const std::vector<double> flat = noise(NoiseKind::white, length, kHissRate, seed + 1);
    for (std::size_t i = 0; i < x.size(); ++i) x[i] += gain_of(colour.flat) * flat[i];
    scale(x, 1.0 / rms_of(x));
    return x;
}

double rms_in_hiss_band(const std::vector<double>& x)
{
    std::vector<double> band = x;
    for (int i = 0; i < 2; ++i) {
        filter_in_place(high_pass(Hertz{4000.0}, kHissRate), band);
        filter_in_place(low_pass(Hertz{10'000.0}, kHissRate), band);
    }
    return rms_of(band);
}

void shape(std::vector<double>& x, const Ramps& ramps)
{
    const auto ramp = [](double share) { return 0.5 - 0.5 * std::cos(std::numbers::pi * share); };
    const double rise = static_cast<double>(samples_of(ramps.rise));
    const double fall = static_cast<double>(samples_of(ramps.fall));
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double since = static_cast<double>(i) + 0.5;
        const double left = static_cast<double>(x.size()) - since;
        if (since < rise) x[i] *= ramp(since / rise);
        if (left < fall) x[i] *= ramp(left / fall);
    }
}

HissScene::HissScene(Seconds length, std::uint64_t seed)
    : mix_(samples_of(length)), room_(samples_of(length)), seed_{seed}
{
}

HissScene& HissScene::room(NoiseKind kind, Dbfs level)
{
    const Seconds length = duration_of({static_cast<std::int64_t>(mix_.size())}, kHissRate);
    std::vector<double> x = noise(kind, length, kHissRate, seed_ * 7919U + 1U);
    scale(x, std::sqrt(mean_square_of(level)));
    add_at(room_, x, 0);
    add_at(mix_, x, 0);
    return *this;
}

HissScene& HissScene::hiss(std::vector<double> shaped, Seconds at, Decibels over_room)
{
    scale(shaped, rms_in_hiss_band(room_) * gain_of(over_room) / rms_in_hiss_band(shaped));
    add_at(mix_, shaped, samples_of(at));
    const Seconds length = duration_of({static_cast<std::int64_t>(shaped.size())}, kHissRate);
    truth_.push_back({at, at + length});
    return *this;
}

HissScene& HissScene::sound(std::vector<double> x, Seconds at, Dbfs level)
{
    scale(x, std::sqrt(mean_square_of(level)) / rms_of(x));
    add_at(mix_, x, samples_of(at));
    return *this;
}

std::vector<float> HissScene::samples() const
{
    std::vector<float> out(mix_.size());
    std::transform(mix_.begin(), mix_.end(), out.begin(),
                   [](double v) { return static_cast<float>(std::clamp(v, -1.0, 1.0)); });
    return out;
}

SibilantsHeard time_sibilants(const std::vector<float>& samples, SampleRate rate)
{
    AnalysisConfig config;
    config.sample_rate = rate;
    FricationMeter meter{config};
    SibilantTimer timer{config};
    const auto hop = static_cast<std::size_t>(hop_length(config).value);
    const std::span<const float> all{samples};
    for (std::size_t at = 0; at + hop <= all.size(); at += hop)
        timer.push(meter.push(all.subspan(at, hop)), Pitch::absent);
    timer.finish();
    return timer.take_finished();
}

}  // namespace holdwell::test
