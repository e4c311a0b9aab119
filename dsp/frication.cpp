#include "dsp/frication.h"

#include <algorithm>
#include <cmath>

namespace holdwell {

namespace {

// A breath that sounds for longer is a fan or a tap; an /s/ that sounds for longer is a pipe.
constexpr Seconds kLongestBreath{5.0};
constexpr Seconds kLongestHiss{60.0};

// A rate whose upper band would be less than half an octave wide has none.
constexpr Hertz kNarrowestHissTo{5000.0};

Hertz upper_edge(Hertz wanted, SampleRate rate) { return {std::min(wanted.value, 0.45 * rate.hz)}; }

double finite_or_silent(float x) { return std::isfinite(x) ? static_cast<double>(x) : 0.0; }

struct Band {
    Dbfs level;
    Dbfs room;
};

// Of the sound in it: the room's power taken off; none when it may be the room alone.
double own_power(const Band& band, Decibels in_doubt)
{
    if (band.level < band.room + in_doubt) return 0.0;
    return std::max(0.0, mean_square_of(band.level) - mean_square_of(band.room));
}

// The most that may be its own.
double most_own_power(const Band& band, Decibels in_doubt)
{
    const Dbfs most = std::max(band.level, band.room + in_doubt);
    return mean_square_of(most) - mean_square_of(band.room);
}

Decibels ratio_of(double power, double reference)
{
    constexpr double kTiny = 1e-13;
    return {std::clamp(10.0 * std::log10((power + kTiny) / (reference + kTiny)), -60.0, 60.0)};
}

int hops_in(Seconds d, Seconds hop) { return static_cast<int>(std::lround(d / hop)); }

}  // namespace

Brightness brightness_of(const FricationReading& r, const FricationRule& rule)
{
    const double hiss = std::max(0.0, mean_square_of(r.hiss_smooth) - mean_square_of(r.hiss_floor));
    const Band low{r.low_smooth, r.low_floor};
    const Band lowest{r.lowest_smooth, r.lowest_floor};
    return {ratio_of(hiss, own_power(low, rule.low_in_doubt)),
            ratio_of(hiss, most_own_power(lowest, rule.lowest_in_doubt))};
}

Phonation aperiodic_kind(const FricationReading& r, const FricationRule& rule)
{
    const bool hiss_sounds = r.hiss_smooth >= r.hiss_floor + rule.over_room;
    const bool low_sounds = r.low_smooth >= r.low_floor + rule.over_room;
    if (!hiss_sounds && !low_sounds) return Phonation::silence;
    if (hiss_sounds && holds(rule.bright, brightness_of(r, rule))) return Phonation::frication;
    return Phonation::breath;
}

FricationMeter::FricationMeter(const AnalysisConfig& config)
    : has_hiss_band_{upper_edge(kHissTo, config.sample_rate) >= kNarrowestHissTo},
      hiss_floor_{config.hop}, low_floor_{config.hop}, lowest_floor_{config.hop},
      breath_patience_{hops_in(kLongestBreath, config.hop)}, hiss_patience_{
                                                                 hops_in(kLongestHiss, config.hop)}
{
    const SampleRate rate = config.sample_rate;
    const auto low_high_pass = BiquadCascade<1>::high_pass(kLowFrom, rate);
    const auto low_low_pass = BiquadCascade<2>::low_pass(kLowTo, rate);
    lowest_low_pass_ = BiquadCascade<1>::low_pass(kLowestTo, rate).section(0);
    BiquadCascade<2> hiss_high_pass;
    BiquadCascade<1> hiss_low_pass;
    if (has_hiss_band_) {
        hiss_high_pass = BiquadCascade<2>::high_pass(kHissFrom, rate);
        hiss_low_pass = BiquadCascade<1>::low_pass(upper_edge(kHissTo, rate), rate);
    }
    hiss_and_low_ = {BiquadPair{hiss_high_pass.section(0), low_high_pass.section(0)},
                     BiquadPair{hiss_high_pass.section(1), low_low_pass.section(0)},
                     BiquadPair{hiss_low_pass.section(0), low_low_pass.section(1)}};
}

double FricationMeter::Smoothed::push(double mean_square, std::size_t slot) noexcept
{
    last[slot] = mean_square;
    double sum = 0.0;
    for (const double v : last) sum += v;
    return sum / static_cast<double>(kSmoothHops);
}

FricationMeter::BandPowers FricationMeter::filter(std::span<const float> hop) noexcept
{
    BandPowers powers;
    const double all = static_cast<double>(std::max<std::size_t>(1, hop.size()));
    for (std::size_t slice = 0; slice < FricationReading::kSlices; ++slice) {
        const std::size_t from = slice * hop.size() / FricationReading::kSlices;
        const std::size_t to = (slice + 1) * hop.size() / FricationReading::kSlices;
        Two sums{};  // of the hiss and the low band
        double lowest_sum = 0.0;
        for (std::size_t i = from; i < to; ++i) {
            const double x = finite_or_silent(hop[i]);
            const Two high_passed = hiss_and_low_[0].push(Two{x, x});
            const double lowest = lowest_low_pass_.push(high_passed[1]);
            const Two passed = hiss_and_low_[2].push(hiss_and_low_[1].push(high_passed));
            sums += passed * passed;
            lowest_sum += lowest * lowest;
        }
        const double n = static_cast<double>(std::max<std::size_t>(1, to - from));
        if (has_hiss_band_) powers.hiss[slice] = sums[0] / n;
        powers.low += sums[1] / all;
        powers.lowest += lowest_sum / all;
    }
    for (BiquadPair& pair : hiss_and_low_) pair.flush();
    lowest_low_pass_.flush();
    return powers;
}

// Sets the floors of `r` from its levels and from what came before.
void FricationMeter::learn_room(FricationReading& r) noexcept
{
    const bool zeros = r.hiss <= kDigitalSilence && r.low <= kDigitalSilence;
    const bool starts = only_zeros_so_far_ && !zeros;
    only_zeros_so_far_ = only_zeros_so_far_ && zeros;

    r.hiss_floor = level_of(hiss_floor_.mean_square());
    r.low_floor = level_of(low_floor_.mean_square());
    r.lowest_floor = level_of(lowest_floor_.mean_square());
    const Phonation kind = aperiodic_kind(r);
    // A microphone often delivers zeros before it starts: they are not a room. But an /s/ in
    // a recording with a silent ground must not be taken for one.
    if (starts && hops_ > 1 && kind != Phonation::frication) {
        hiss_floor_.reset();
        low_floor_.reset();
        lowest_floor_.reset();
    }
    sounding_hops_ = kind == Phonation::silence ? 0 : sounding_hops_ + 1;
    const int patience = kind == Phonation::frication ? hiss_patience_ : breath_patience_;
    const Evidence evidence = kind == Phonation::silence  ? Evidence::quiet
                              : sounding_hops_ > patience ? Evidence::part_of_room
                                                          : Evidence::sounding;
    r.hiss_floor = level_of(hiss_floor_.push(mean_square_of(r.hiss_smooth), evidence));
    r.low_floor = level_of(low_floor_.push(mean_square_of(r.low_smooth), evidence));
    r.lowest_floor = level_of(lowest_floor_.push(mean_square_of(r.lowest_smooth), evidence));
}

FricationReading FricationMeter::push(std::span<const float> hop) noexcept
{
    const BandPowers powers = filter(hop);
    double hiss = 0.0;
    for (const double slice : powers.hiss) hiss += slice / FricationReading::kSlices;

    FricationReading r;
    r.begin = position_;
    r.hiss_slices = powers.hiss;
    r.hiss = level_of(hiss);
    r.low = level_of(powers.low);
    const std::size_t slot = hops_ % kSmoothHops;
    r.hiss_smooth = level_of(hiss_.push(hiss, slot));
    r.low_smooth = level_of(low_.push(powers.low, slot));
    r.lowest_smooth = level_of(lowest_.push(powers.lowest, slot));
    ++hops_;
    learn_room(r);
    position_ = position_ + SampleCount{static_cast<std::int64_t>(hop.size())};
    return r;
}

void FricationMeter::reset() noexcept
{
    for (BiquadPair& pair : hiss_and_low_) pair.reset();
    lowest_low_pass_.reset();
    hiss_ = low_ = lowest_ = {};
    hiss_floor_.reset();
    low_floor_.reset();
    lowest_floor_.reset();
    position_ = {};
    hops_ = 0;
    sounding_hops_ = 0;
    only_zeros_so_far_ = true;
}

}  // namespace holdwell
