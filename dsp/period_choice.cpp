#include "dsp/period_choice.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dsp/line_pattern.h"

namespace holdwell {

namespace {

// Chosen by us on generated voices (tests/support/pitch_gallery.h), together; a change of one of
// these numbers by a fifth changes no category by much.

constexpr Hertz kBand{2200.0};  // lines fitted
constexpr std::size_t kLines = 16;
constexpr double kSame = 0.03;  // octaves: two minima nearer than this are one candidate

// Cost of a candidate: log(residual + kResidualFloor) + price per second / f0 + what is said below.
constexpr double kResidualFloor = 0.06;  // what an even voice's own unevenness leaves over
constexpr double kPricePerSecond = 60.0;
constexpr double kRebateInNoise = 0.7;  // of that, where far more than the floor is left over
// Lines between multiples that have over half their neighbours' amplitude are nothing strange;
// weaker ones are a sign of a multiple of f0 being the voice.
constexpr double kWellFilled = 0.65;
constexpr double kLeast = 1e-15;  // of a divisor

// Against "not voiced" a long period is dearer: two single pulses make one in a short frame.
constexpr double kVoicedPricePerSecond = 80.0;
// Cost of "not voiced": that of a candidate at 200 Hz which leaves this much over.
constexpr double kUnvoicedResidual = 0.45;
constexpr Hertz kUnvoicedF0{200.0};
// Near the room a voice must be the clearer, the nearer it is; what is no louder than the room is
// the room, be it as periodic as a fan or the mains.
constexpr Decibels kClear{8.0};
constexpr Decibels kHidden{2.0};
constexpr double kPricePerDecibel = 0.2;
constexpr double kPriceWhenHidden = 1.0;  // per dB

double unvoiced_cost(Decibels over_room)
{
    double cost =
        std::log(kUnvoicedResidual + kResidualFloor) + kVoicedPricePerSecond / kUnvoicedF0.value;
    cost -= kPricePerDecibel * std::max(0.0, kClear.value - over_room.value);
    cost -= kPriceWhenHidden * std::max(0.0, kHidden.value - over_room.value);
    return cost;
}

// No candidate costs less: what a fit that leaves nothing over would.
double least_cost() { return std::log(kResidualFloor); }

}  // namespace

PeriodChoice::PeriodChoice(SampleRate rate, std::size_t frame_length, F0Range range, double shape)
    : rate_{rate}, difference_{rate, frame_length, range}, fit_{rate, frame_length, shape},
      tracker_{TrackerSettings{}}
{
}

void PeriodChoice::add_candidates(std::span<const float> x) noexcept
{
    const PeriodCandidates found = difference_.find_candidates(x);
    for (std::size_t i = 0; i < std::min(found.count, kFromEach); ++i) {
        const Hertz f0 = found.list[i].f0;
        const auto known = std::span{candidates_}.first(count_);
        const bool is_new = std::none_of(known.begin(), known.end(), [&](const auto& c) {
            return std::abs(std::log2(c.f0.value / f0.value)) < kSame;
        });
        if (is_new) candidates_[count_++] = {f0, 0.0};
    }
}

// Of the frame that was set last, which `colour` has whitened.
PeriodChoice::Fault PeriodChoice::fault_of(Hertz f0, const NoiseColour& colour) noexcept
{
    const LineFit fit = fit_.fit(f0, kBand, kLines);
    Lines lines{.count = fit.count};
    for (std::size_t k = 1; k <= fit.count; ++k) {
        const double at = 2.0 * std::numbers::pi * static_cast<double>(k) * f0.value / rate_.hz;
        lines.power[k - 1] = fit.power[k - 1] / std::max(kLeast, colour.power_gain(at));
        lines.over_noise[k - 1] = fit.power[k - 1] / std::max(kLeast, fit.noise_power);
    }
    const double poorly_filled = std::max(1.0, kWellFilled / least_filled(lines));
    return {fit.residual, std::log(fit.residual + kResidualFloor) + std::log(poorly_filled)};
}

void PeriodChoice::cost_candidates(const NoiseColour& colour) noexcept
{
    double least_residual = 1.0;
    for (CostedCandidate& c : std::span{candidates_}.first(count_)) {
        const Fault fault = fault_of(c.f0, colour);
        c.cost = fault.cost;
        least_residual = std::min(least_residual, fault.residual);
    }
    const double noisy = least_residual / (least_residual + kResidualFloor);
    const double price_per_second = kPricePerSecond * (1.0 - kRebateInNoise * noisy);
    for (CostedCandidate& c : std::span{candidates_}.first(count_)) {
        c.cost += price_per_second / c.f0.value;
    }
}

// Of the frame that was set last, which is not whitened.
double PeriodChoice::cost_as_heard(Hertz f0) noexcept
{
    return fault_of(f0, NoiseColour{}).cost + kVoicedPricePerSecond / f0.value;
}

// Of the frame that was set last, which is not whitened; `cheapest` when it is.
void PeriodChoice::judge_as_heard(CostedCandidate cheapest, const NotVoiced& not_voiced) noexcept
{
    const auto found = std::span{candidates_}.first(count_);
    const double cost = cost_as_heard(cheapest.f0);
    if (cost > not_voiced.cost && not_voiced.over_room > kClear) {
        std::array<CostedCandidate, 2 * kFromEach> heard = candidates_;
        const auto voices = std::span{heard}.first(count_);
        for (CostedCandidate& c : voices) c.cost = cost_as_heard(c.f0);
        if (std::ranges::min(voices, {}, &CostedCandidate::cost).cost < not_voiced.cost) {
            candidates_ = heard;
            return;
        }
    }
    for (CostedCandidate& c : found) c.cost += cost - cheapest.cost;
}

void PeriodChoice::find_candidates(const FramePair& frame, const NoiseColour& colour,
                                   const NotVoiced& not_voiced) noexcept
{
    add_candidates(frame.heard);
    add_candidates(frame.whitened);
    if (count_ == 0) return;
    fit_.set_frame(frame.whitened);
    cost_candidates(colour);
    const auto found = std::span{candidates_}.first(count_);
    const CostedCandidate cheapest = std::ranges::min(found, {}, &CostedCandidate::cost);
    fit_.set_frame(frame.heard);
    judge_as_heard(cheapest, not_voiced);
}

PeriodChoice::Choice PeriodChoice::push(const FramePair& frame, const NoiseColour& colour,
                                        Decibels over_room) noexcept
{
    count_ = 0;
    const NotVoiced not_voiced{unvoiced_cost(over_room), over_room};
    if (voiced_ || not_voiced.cost > least_cost()) find_candidates(frame, colour, not_voiced);
    const F0Tracker::Decision decision = tracker_.push(candidates_.data(), count_, not_voiced.cost);
    voiced_ = decision.voiced;
    if (!decision.best) return {};
    return {candidates_[*decision.best].f0, decision.voiced};
}

void PeriodChoice::reset() noexcept
{
    tracker_.reset();
    voiced_ = false;
}

}  // namespace holdwell
