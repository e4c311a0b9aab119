#include "dsp/f0_estimator.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "dsp/biquad.h"
#include "dsp/decimator.h"
#include "dsp/harmonic_refiner.h"
#include "dsp/mains_hum.h"
#include "dsp/noise_colour.h"
#include "dsp/period_choice.h"
#include "dsp/room_floor.h"
#include "dsp/vector_sums.h"

namespace holdwell {

namespace {

// Chosen by us on generated voices (tests/support/pitch_gallery.h), together; a change of one of
// these numbers by a fifth changes no category by much.

// The longest that keeps the delay, filter included, at 20 ms.
constexpr Seconds kWindow{37.3e-3};
// Between rectangular (least noise) and sine (least leakage from harmonics that are not fitted).
constexpr double kWindowShape = 0.25;
constexpr Hertz kRumble{50.0};        // high-pass; no voice is lower
constexpr Hertz kChoicePass{1800.0};  // low-pass of the frame that the period is chosen on
constexpr Hertz kRefinementBand{3500.0};

// Share of the energy left over by the refined fit: below to begin, below to go on. In pink noise
// as strong as the voice about half of the energy below 3.5 kHz is left over.
constexpr double kStartResidual = 0.40;
constexpr double kStayResidual = 0.60;
// So far over the room a frame may be a voice's beginning that is not yet known for one: its voice
// is fitted all the same, lest it is learnt as noise.
constexpr Decibels kMaybeVoice{6.0};
// Refinement may move a candidate by so much; farther is another period.
constexpr double kFarthestRefined = 0.06;  // octaves

std::size_t window_samples(SampleRate rate)
{
    return static_cast<std::size_t>(kWindow.count() * rate.hz / 2.0) * 2;
}

// The newest samples of a stream, oldest first, and the same with their noise made white.
class Frame {
public:
    explicit Frame(std::size_t length)
        : samples_(length + NoiseColour::kOrder, 0.0f), whitened_(length, 0.0f)
    {
    }
    // Makes room for n samples at the end; they are to be written.
    std::span<float> advance(std::size_t n)
    {
        std::copy(samples_.begin() + static_cast<std::ptrdiff_t>(n), samples_.end(),
                  samples_.begin());
        return std::span{samples_}.last(n);
    }
    void whiten(const NoiseColour& colour) { colour.whiten(samples_, whitened_); }
    std::span<const float> heard() const { return std::span{samples_}.last(whitened_.size()); }
    FramePair pair() const { return {heard(), whitened_}; }
    void clear() { std::fill(samples_.begin(), samples_.end(), 0.0f); }

private:
    std::vector<float> samples_;  // with those before, which whitening needs
    std::vector<float> whitened_;
};

}  // namespace

struct F0Estimator::Chain {
    explicit Chain(const AnalysisConfig& c)
        : config{c}, decimator{c.sample_rate}, rate{decimator.output_rate()},
          decimated(static_cast<std::size_t>(hop_length(c).value) + 1),
          rumble{BiquadCascade<1>::high_pass(kRumble, rate)},
          choice_pass{BiquadCascade<2>::low_pass(kChoicePass, rate)}, hum{rate},
          quiet{c.hop, kVoiceBandRoom}, full{window_samples(rate)}, low{window_samples(rate)},
          choice{rate, window_samples(rate), {c.lowest_f0, c.highest_f0}, kWindowShape},
          refiner{rate, window_samples(rate), kWindowShape}
    {
    }

    void take(std::span<const float> hop) noexcept;
    SampleIndex centre() const noexcept;
    Decibels over_room(Decibels as_heard) noexcept;
    PeriodChoice::Choice choose(Decibels over_room) noexcept;
    void refine(Hertz guess, F0Reading& reading) noexcept;
    void learn_from(const F0Reading& reading) noexcept;

    AnalysisConfig config;
    Decimator decimator;
    SampleRate rate;
    std::vector<float> decimated;
    BiquadCascade<1> rumble;
    BiquadCascade<2> choice_pass;
    MainsHum hum;
    RoomFloor quiet;  // the room without its hum
    Frame full, low;
    NoiseColour colour;
    PeriodChoice choice;
    HarmonicRefiner refiner;
    SampleIndex next{};
    std::size_t newest{0};  // samples of the frame that came with the last hop
    bool hum_was_known{false};
    bool was_periodic{false};
};

void F0Estimator::Chain::take(std::span<const float> hop) noexcept
{
    const std::size_t count = decimator.push(hop, decimated);
    const std::span<float> new_full = full.advance(count);
    const std::span<float> new_low = low.advance(count);
    for (std::size_t i = 0; i < count; ++i) {
        new_full[i] = static_cast<float>(rumble.push(static_cast<double>(decimated[i])));
    }
    hum.push(new_full);
    for (std::size_t i = 0; i < count; ++i) {
        new_low[i] = static_cast<float>(choice_pass.push(static_cast<double>(new_full[i])));
    }
    rumble.flush();
    choice_pass.flush();
    newest = count;
    next = next + SampleCount{static_cast<std::int64_t>(hop.size())};
}

SampleIndex F0Estimator::Chain::centre() const noexcept
{
    const auto window = static_cast<std::int64_t>(full.heard().size() * decimator.factor());
    return next - decimator.delay() - SampleCount{window / 2};
}

// Where the room's hum is taken off, what counts is the room without it.
Decibels F0Estimator::Chain::over_room(Decibels as_heard) noexcept
{
    const std::optional<double> rest = hum.rest();
    if (!rest) {
        hum_was_known = false;
        return as_heard;
    }
    if (!hum_was_known) quiet = RoomFloor{config.hop, kVoiceBandRoom, *rest};
    hum_was_known = true;
    const double floor = quiet.push(mean_square(full.heard().last(newest)),
                                    was_periodic ? Evidence::sounding : Evidence::quiet);
    return std::max(as_heard, level_of(mean_square(full.heard())) - level_of(floor));
}

PeriodChoice::Choice F0Estimator::Chain::choose(Decibels over_room) noexcept
{
    low.whiten(colour);
    return choice.push(low.pair(), colour, over_room);
}

void F0Estimator::Chain::refine(Hertz guess, F0Reading& reading) noexcept
{
    full.whiten(colour);
    const std::optional<RefinedF0> fine = refiner.refine(full.pair(), guess, kRefinementBand);
    if (!fine || std::abs(std::log2(fine->f0.value / guess.value)) > kFarthestRefined) return;
    reading.f0 = fine->f0;
    reading.error = Cents{1200.0 / std::numbers::ln2 * fine->error.value / fine->f0.value};
    reading.slope_semitones_per_s =
        12.0 / std::numbers::ln2 * fine->slope_hz_per_s / fine->f0.value;
    reading.residual = fine->residual;
}

void F0Estimator::Chain::learn_from(const F0Reading& reading) noexcept
{
    const double power = mean_square(full.heard());
    if (reading.f0) {
        colour.add(refiner.left_over(), {power, 0.040 * reading.slope_semitones_per_s / 12.0});
    } else {
        colour.add(full.heard(), {power});
    }
    if (!reading.periodic) refiner.reset();
}

F0Estimator::F0Estimator(const AnalysisConfig& config) : chain_{std::make_unique<Chain>(config)} {}
F0Estimator::~F0Estimator() = default;
F0Estimator::F0Estimator(F0Estimator&&) noexcept = default;
F0Estimator& F0Estimator::operator=(F0Estimator&&) noexcept = default;

F0Reading F0Estimator::push(std::span<const float> hop, Decibels over_room) noexcept
{
    Chain& c = *chain_;
    c.take(hop);
    F0Reading reading;
    reading.centre = c.centre();
    const Decibels clear_by = c.over_room(over_room);
    const PeriodChoice::Choice choice = c.choose(clear_by);
    if (choice.voiced || (choice.f0 && clear_by > kMaybeVoice)) c.refine(*choice.f0, reading);
    const double enough = c.was_periodic ? kStayResidual : kStartResidual;
    reading.periodic = choice.voiced && reading.f0 && reading.residual < enough;
    c.was_periodic = reading.periodic;
    c.learn_from(reading);
    return reading;
}

void F0Estimator::skip(SampleCount lost) noexcept
{
    Chain& c = *chain_;
    c.next = c.next + lost;
    c.decimator.reset();
    c.rumble.reset();
    c.choice_pass.reset();
    c.hum.reset();
    c.full.clear();
    c.low.clear();
    c.colour.reset();
    c.choice.reset();
    c.refiner.reset();
    c.was_periodic = false;
}

void F0Estimator::reset() noexcept
{
    const SampleCount so_far{chain_->next.value};
    skip(SampleCount{-so_far.value});
}

}  // namespace holdwell
