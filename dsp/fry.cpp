#include "dsp/fry.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace holdwell {

namespace {

constexpr double kStepSeconds = 0.0005;
constexpr double kLowCutHz = 800.0;
constexpr double kHighCutHz = 4000.0;
// Keeps the logarithm finite and digital noise without peaks: -100 dBFS.
constexpr double kEnvelopeFloor = 1e-10;

// A pulse rises by so much over the valley before it, most of it within kRiseSeconds: beats and
// tremolo are as deep but never as steep.
constexpr double kRiseDb = 10.0;
constexpr double kSteepDb = 6.0;
constexpr double kRiseSeconds = 0.005;
// A peak is past when the envelope has fallen by so much, or when it has not risen for so long.
constexpr double kPastDb = 1.5;
constexpr double kPastSeconds = 0.003;

// Between pulses. The shortest is a rate of 77 Hz; the longest allows for one late pulse at 20 Hz.
constexpr double kShortestSeconds = 0.013;
constexpr double kLongestSeconds = 0.075;
// An echo of a pulse within the shortest interval is softer than the pulse.
constexpr double kEchoDb = 3.0;
constexpr double kLikeLevelDb = 15.0;
// A pulse dies away: the envelope is within kLoudDb of it for no more than this share of the
// time to the next. Noise stays there for most of the time.
constexpr double kLoudDb = 6.0;
constexpr double kLoudShare = 0.40;

constexpr std::size_t kPulsesAfterVoice = 3;
constexpr std::size_t kPulsesAlone = 5;
constexpr double kRecentVoiceSeconds = 0.4;
// Pulses of the same voice are not much softer than it was; what the room does is.
constexpr double kSofterThanVoiceDb = 15.0;
// Peaks of a room's noise stand 3 or 4 dB above its mean, pulses more.
constexpr double kOverRoomDb = 8.0;
// How much of a new hop's power the room takes on: slowly when it rises, for it may be a pulse.
constexpr double kRoomRisePerHop = 0.01;
constexpr double kRoomFallPerHop = 0.1;
// How much of a new hop's level the voice's takes on.
constexpr double kVoiceLevelPerHop = 0.2;
// The f0 chain still says voiced for so long after the last cycle.
constexpr double kF0LagSeconds = 0.04;

// C2 is 65.4 Hz; a man's lowest modal notes lie a little above. Below this rate even regular
// pulses are heard one by one.
constexpr double kLowestModalHz = 56.0;
constexpr double kModalIrregularity = 0.08;
// The envelope of a modal voice correlates with itself one period before; levels further below its
// peak than kDepthDb are the room's.
constexpr double kRepeats = 0.85;
constexpr double kComparedSeconds = 0.08;
constexpr double kDepthDb = 30.0;

}  // namespace

FryDetector::FryDetector(const AnalysisConfig& config)
    : rate_{config.sample_rate}, high_pass_{std::exp(-2.0 * std::numbers::pi * kLowCutHz /
                                                     rate_.hz)},
      low_pass_{1.0 - std::exp(-2.0 * std::numbers::pi * std::min(kHighCutHz, 0.4 * rate_.hz) /
                               rate_.hz)},
      step_length_{static_cast<std::size_t>(std::max(1.0, std::round(kStepSeconds * rate_.hz)))},
      step_s_{static_cast<double>(step_length_) / rate_.hz}
{
    reset();
}

void FryDetector::reset() noexcept
{
    filtered_ = {};
    energy_ = 0.0;
    in_step_ = 0;
    steps_.fill(kEnvelopeFloor);
    envelope_.fill(10.0 * std::log10(kEnvelopeFloor));
    step_ = 0;
    valley_db_ = envelope_[0];
    rising_to_.reset();
    in_run_ = 0;
    short_intervals_ = 0;
    run_begin_step_ = 0.0;
    voice_db_ = room_ = 0.0;
    last_voiced_step_ = std::numeric_limits<std::int64_t>::min() / 2;
}

// Adds the energy of the filtered samples to that of the step under way.
void FryDetector::filter(std::span<const float> samples) noexcept
{
    Filtered f = filtered_;
    double energy = energy_;
    for (const float raw : samples) {
        const double x = std::isfinite(raw) ? static_cast<double>(raw) : 0.0;
        // So bracketed, each sum waits for one result of the sample before and not for two.
        f.high = high_pass_ * (f.high + (x - f.before));
        f.before = x;
        f.low = (1.0 - low_pass_) * f.low + low_pass_ * f.high;
        energy += f.low * f.low;
    }
    filtered_ = f;
    energy_ = energy;
    in_step_ += samples.size();
}

FryReading FryDetector::push(std::span<const float> hop, Phonation f0_says) noexcept
{
    double hop_energy = 0.0;
    for (std::span<const float> rest = hop; !rest.empty();) {
        const std::size_t n = std::min(rest.size(), step_length_ - in_step_);
        filter(rest.first(n));
        rest = rest.subspan(n);
        if (in_step_ < step_length_) break;
        push_step(energy_ / static_cast<double>(step_length_));
        hop_energy += energy_;
        energy_ = 0.0;
        in_step_ = 0;
    }
    if (f0_says == Phonation::voiced) hear_voice();
    if (f0_says == Phonation::voiced) return {};
    if (!run_is_fry()) {
        if (!hop.empty()) hear_room(hop_energy / static_cast<double>(hop.size()));
        return {};
    }
    return {.fry = true,
            .since = index_of(run_begin_step_),
            .last_pulse = index_of(pulse(0).at_step),
            .rate = Hertz{1.0 / (mean_interval_steps() * step_s_)},
            .irregularity = irregularity()};
}

void FryDetector::push_step(double mean_square) noexcept
{
    steps_[static_cast<std::size_t>(step_) % steps_.size()] = mean_square;
    double sum = 0.0;
    for (const double s : steps_) sum += s;
    const double mean = sum / static_cast<double>(steps_.size());
    const double level_db = 10.0 * std::log10(mean + kEnvelopeFloor);
    envelope_[static_cast<std::size_t>(step_) % kEnvelope] = level_db;
    if (in_run_ > 0) {
        Pulse& last = pulses_[(in_run_ - 1) % kPulses];
        if (level_db > last.level_db - kLoudDb) ++last.loud_steps;
    }
    follow(level_db);
    ++step_;
}

double FryDetector::envelope_db(std::int64_t step) const noexcept
{
    return envelope_[static_cast<std::size_t>(std::max<std::int64_t>(step, 0)) % kEnvelope];
}

// Valley, rise, peak, fall.
void FryDetector::follow(double level_db) noexcept
{
    if (!rising_to_) {
        valley_db_ = std::min(valley_db_, level_db);
        if (level_db - valley_db_ >= kRiseDb) rising_to_ = step_;
        return;
    }
    if (level_db > envelope_db(*rising_to_)) {
        rising_to_ = step_;
        return;
    }
    const double since_s = static_cast<double>(step_ - *rising_to_) * step_s_;
    if (envelope_db(*rising_to_) - level_db < kPastDb && since_s < kPastSeconds) return;
    confirm_peak();
    rising_to_.reset();
    valley_db_ = level_db;
}

void FryDetector::confirm_peak() noexcept
{
    const std::int64_t top = *rising_to_;
    const auto rise_steps = static_cast<std::int64_t>(std::lround(kRiseSeconds / step_s_));
    const double peak_db = envelope_db(top);
    if (peak_db - envelope_db(top - rise_steps) < kSteepDb) return;
    // The peak lies between steps: a parabola through three of them.
    const double left = envelope_db(top - 1) - peak_db;
    const double right = envelope_db(top + 1) - peak_db;
    const double curve = left + right;
    const double shift = curve < 0.0 ? std::clamp(0.5 * (left - right) / curve, -0.5, 0.5) : 0.0;
    add_pulse({static_cast<double>(top) + shift, peak_db});
}

void FryDetector::begin_run(const Pulse& first) noexcept
{
    in_run_ = 1;
    short_intervals_ = 0;
    pulses_[0] = first;
    run_begin_step_ = first.at_step;
}

// Pulses of a voice are not a run of fry, but those since its end may begin one.
void FryDetector::hear_voice() noexcept
{
    const double now_db = envelope_db(step_ - 1);
    const bool goes_on =
        static_cast<double>(step_ - last_voiced_step_) * step_s_ < kRecentVoiceSeconds;
    voice_db_ += (goes_on ? kVoiceLevelPerHop : 1.0) * (now_db - voice_db_);
    last_voiced_step_ = step_;
    const double voice_end = static_cast<double>(step_) - kF0LagSeconds / step_s_;
    if (in_run_ > 0 && run_begin_step_ < voice_end) in_run_ = 0;
}

void FryDetector::add_pulse(const Pulse& next) noexcept
{
    if (in_run_ == 0) return begin_run(next);
    const double interval_s = (next.at_step - pulse(0).at_step) * step_s_;
    const double change_db = next.level_db - pulse(0).level_db;
    if (interval_s < kShortestSeconds && change_db < -kEchoDb) return;
    if (interval_s > kLongestSeconds || std::abs(change_db) > kLikeLevelDb) return begin_run(next);
    const double loud_s = static_cast<double>(pulse(0).loud_steps) * step_s_;
    if (loud_s > kLoudShare * interval_s) return begin_run(next);
    // One short interval is a double pulse, two are a modal voice.
    short_intervals_ = interval_s < kShortestSeconds ? short_intervals_ + 1 : 0;
    if (short_intervals_ > 1) return begin_run(next);
    pulses_[in_run_ % kPulses] = next;
    ++in_run_;
}

const FryDetector::Pulse& FryDetector::pulse(std::size_t newest_first) const noexcept
{
    return pulses_[(in_run_ - 1 - newest_first) % kPulses];
}

double FryDetector::mean_interval_steps() const noexcept
{
    const std::size_t known = std::min(in_run_, kPulses);
    return (pulse(0).at_step - pulse(known - 1).at_step) / static_cast<double>(known - 1);
}

double FryDetector::irregularity() const noexcept
{
    const std::size_t known = std::min(in_run_, kPulses);
    if (known < 3) return 0.0;
    double sum = 0.0;
    for (std::size_t i = 0; i + 2 < known; ++i) {
        sum += std::abs(pulse(i).at_step - 2.0 * pulse(i + 1).at_step + pulse(i + 2).at_step);
    }
    return sum / static_cast<double>(known - 2) / mean_interval_steps();
}

void FryDetector::hear_room(double mean_square) noexcept
{
    if (room_ == 0.0) room_ = mean_square;
    const double share = mean_square > room_ ? kRoomRisePerHop : kRoomFallPerHop;
    room_ += share * (mean_square - room_);
}

// Whether the pulses come soon after a voice, not much softer than it, and out of the room.
bool FryDetector::follows_voice() const noexcept
{
    const double after_s = (run_begin_step_ - static_cast<double>(last_voiced_step_)) * step_s_;
    const double room_db = 10.0 * std::log10(room_ + kEnvelopeFloor);
    return after_s < kRecentVoiceSeconds && pulse(0).level_db > voice_db_ - kSofterThanVoiceDb &&
           pulse(0).level_db > room_db + kOverRoomDb;
}

bool FryDetector::run_is_fry() const noexcept
{
    if (in_run_ < kPulsesAfterVoice) return false;
    const double since_last_s = (static_cast<double>(step_) - pulse(0).at_step) * step_s_;
    if (since_last_s > kLongestSeconds) return false;
    if (!follows_voice() && in_run_ < kPulsesAlone) return false;
    const double mean_s = mean_interval_steps() * step_s_;
    if (mean_s < kShortestSeconds) return false;
    if (1.0 / mean_s >= kLowestModalHz && irregularity() <= kModalIrregularity) return false;
    return !envelope_repeats();
}

// Whether the last 80 ms are like those one period of a low modal voice before.
bool FryDetector::envelope_repeats() const noexcept
{
    const auto shortest = static_cast<std::int64_t>(kShortestSeconds / step_s_);
    const auto longest = static_cast<std::int64_t>(1.0 / kLowestModalHz / step_s_) + 1;
    for (std::int64_t lag = shortest; lag <= longest; ++lag) {
        if (envelope_correlation(lag) > kRepeats) return true;
    }
    return false;
}

// Pearson's correlation of the envelope in dB with itself.
double FryDetector::envelope_correlation(std::int64_t lag) const noexcept
{
    const auto compared = static_cast<std::int64_t>(kComparedSeconds / step_s_);
    const double floor_db = pulse(0).level_db - kDepthDb;
    double a_sum = 0.0, b_sum = 0.0, aa = 0.0, bb = 0.0, ab = 0.0;
    for (std::int64_t i = step_ - compared; i < step_; ++i) {
        const double a = std::max(envelope_db(i) - floor_db, 0.0);
        const double b = std::max(envelope_db(i - lag) - floor_db, 0.0);
        a_sum += a;
        b_sum += b;
        aa += a * a;
        bb += b * b;
        ab += a * b;
    }
    const auto n = static_cast<double>(compared);
    const double spread = (aa - a_sum * a_sum / n) * (bb - b_sum * b_sum / n);
    return spread > 0.0 ? (ab - a_sum * b_sum / n) / std::sqrt(spread) : 0.0;
}

SampleIndex FryDetector::index_of(double step) const noexcept
{
    // Step s ends at sample (s + 1) * length, and the envelope's 2 ms are centred 1 ms before.
    const double end = (step + 1.0) * static_cast<double>(step_length_);
    return {std::max<std::int64_t>(0, std::llround(end - 0.001 * rate_.hz))};
}

}  // namespace holdwell
