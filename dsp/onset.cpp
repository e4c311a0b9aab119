#include "dsp/onset.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace holdwell {

namespace {

// Steps are milliseconds, to within 1 %.
constexpr std::int64_t kRoomFrom = 1000;  // before the beginning
constexpr std::int64_t kRoomTo = 30;
constexpr std::int64_t kLeastRoom = 200;
constexpr std::int64_t kRoomBlock = 20;
constexpr std::int64_t kLast = 600;        // after it
constexpr std::int64_t kSettledFor = 100;  // the last of what is looked at
constexpr std::int64_t kEarly = 100;       // the caller's beginning may be so late
constexpr double kShortestWindow = 5.0;
constexpr double kAirWindow = 10.0;
constexpr int kAirPause = 30;         // a breath that stops so long before the voice is a breath in
constexpr double kBrighter = 2.5;     // in power: 4 dB
constexpr double kPitchBlur = 50.0;   // a pitch is found about the right step, +- half a window
constexpr double kVoiceStarts = 0.2;  // share of the settled amplitude
// From 10 to 80 % of a rise to its 10 to 90 %: straight 1.14, raised cosine 1.18. An abrupt step
// seen through a window has an envelope sqrt(t / width): 10 to 80 % take 0.63 of the width.
constexpr double kUpper = 0.8;
constexpr double kToNinety = 1.16;
constexpr double kSmear = 0.63;
constexpr std::int64_t kFirstCycles = 80;
constexpr Semitones kIrregular{1.5};
constexpr double kSilence = 1e-10;  // mean square: -100 dBFS, below any microphone's noise

double decibels(double power, double reference)
{
    return 10.0 * std::log10(std::max(power, kSilence) / std::max(reference, kSilence));
}

double median_of(std::vector<double> values)
{
    if (values.empty()) return 0.0;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

std::string milliseconds_in_words(Seconds t)
{
    return std::to_string(std::lround(t.count() * 1000.0)) + " ms";
}

}  // namespace

OnsetClass class_of(const OnsetFeatures& f, const OnsetThresholds& t)
{
    if (f.snr < t.least_snr) return OnsetClass::unsure;
    if (f.air_lead >= t.breathy_air) return OnsetClass::breathy;
    if (f.air_lead >= t.no_air) return OnsetClass::unsure;
    const bool attacked = f.overshoot >= t.click || f.irregular;
    if (f.rise <= t.hard_rise || (attacked && f.rise <= t.hard_rise_with_click))
        return OnsetClass::hard;
    return f.rise >= t.easy_rise ? OnsetClass::easy : OnsetClass::unsure;
}

std::string reason_for(const OnsetFeatures& f, const OnsetThresholds& t)
{
    if (f.snr < t.least_snr) return "too much noise in the room to tell";
    const std::string full = f.rise < Seconds{1ms}
                                 ? "full level at once"
                                 : "full level in " + milliseconds_in_words(f.rise);
    const std::string air = "air for " + milliseconds_in_words(f.air_lead) + " before the voice";
    switch (class_of(f, t)) {
    case OnsetClass::breathy:
        return air + ": a breathy start";
    case OnsetClass::hard:
        if (f.overshoot >= t.click) return full + ", with a click: a hard start";
        if (f.irregular) return full + ", with an uneven beginning: a hard start";
        return full + ": a hard start";
    case OnsetClass::easy:
        return full + ", without a click or air: an easy start";
    case OnsetClass::unsure:
        break;
    }
    if (f.air_lead >= t.no_air) return air + ": too little to call it breathy";
    return full + ": between a hard and an easy start";
}

OnsetMeter::OnsetMeter(const AnalysisConfig& config, const OnsetThresholds& thresholds)
    : history_{config}, thresholds_{thresholds}
{
}

void OnsetMeter::push(std::span<const float> hop, const FrameReading& reading) noexcept
{
    history_.push(hop, reading);
}

// The median period of the voice in the 300 ms after the beginning, in steps.
double OnsetMeter::period_after(std::int64_t onset) const
{
    std::vector<double> periods;
    for (std::size_t back = 0; back < OnsetHistory::kReadings; ++back) {
        const auto voiced = history_.voiced(back);
        if (!voiced || !voiced->f0 || voiced->step < static_cast<double>(onset)) continue;
        periods.push_back(history_.steps_per_second() / voiced->f0->value);
    }
    return median_of(std::move(periods));
}

OnsetMeter::Beginning::Level OnsetMeter::level_in(Band band, std::int64_t onset,
                                                  std::int64_t end) const
{
    std::vector<double> blocks;
    const std::int64_t from = std::max(history_.oldest(), onset - kRoomFrom);
    for (std::int64_t i = from; i + kRoomBlock <= onset - kRoomTo; i += kRoomBlock)
        blocks.push_back(history_.smooth(band, i + kRoomBlock / 2, kRoomBlock));
    std::sort(blocks.begin(), blocks.end());
    // Of the voice band the usual level: an underestimated room would make us too sure. Of the
    // others a quiet one: air may have sounded for half the time.
    const std::size_t place = band == Band::voice ? blocks.size() / 2 : blocks.size() / 5;
    const double room = blocks.empty() ? 0.0 : blocks[std::min(place, blocks.size() - 1)];

    std::vector<double> after;
    for (std::int64_t i = std::max(onset, end - kSettledFor); i < end; ++i)
        after.push_back(history_.smooth(band, i, std::max(kShortestWindow, 10.0)));
    return {std::max(room, kSilence), median_of(std::move(after))};
}

OnsetMeter::Beginning OnsetMeter::look_at(std::int64_t onset) const
{
    Beginning b{};
    b.onset = onset;
    b.end = std::min(history_.end(), onset + kLast);
    b.period = period_after(onset);
    b.width = std::max(kShortestWindow, b.period);
    b.voice = level_in(Band::voice, onset, b.end);
    b.fundamental = level_in(Band::fundamental, onset, b.end);
    b.breath = level_in(Band::breath, onset, b.end);
    b.hiss = level_in(Band::hiss, onset, b.end);
    b.first_pitch = first_pitch(b.end);
    return b;
}

// Amplitude at a step, the room taken off: 0 .. about 1.
double OnsetMeter::share_of_settled(const Beginning& b, Band band, std::int64_t step) const
{
    const Beginning::Level& level = band == Band::voice ? b.voice : b.fundamental;
    const double own = history_.smooth(band, step, b.width) - level.room;
    return std::sqrt(std::max(0.0, own) / std::max(kSilence, level.settled - level.room));
}

// Where the unbroken run of pitch begins that lasts to `end`; nothing when there is none.
std::optional<double> OnsetMeter::first_pitch(std::int64_t end) const
{
    std::optional<double> first;
    for (std::size_t back = 0; back < OnsetHistory::kReadings; ++back) {
        const auto voiced = history_.voiced(back);
        if (voiced && voiced->step > static_cast<double>(end)) continue;
        if (!voiced && first) break;
        if (voiced) first = voiced->step;
    }
    return first;
}

// Where the fundamental passes 20 % of its settled amplitude, in steps; not long before a pitch is
// found, since loud air reaches down there too.
double OnsetMeter::voice_start(const Beginning& b) const
{
    const std::int64_t earliest = std::max(history_.oldest(), b.onset - kEarly);
    std::int64_t i = earliest;
    while (i < b.end && share_of_settled(b, Band::fundamental, i) < 0.9) ++i;
    while (i > history_.oldest() && share_of_settled(b, Band::fundamental, i) > kVoiceStarts) --i;
    const double start = static_cast<double>(i) + 1.0;
    if (b.first_pitch && start < *b.first_pitch - kPitchBlur) return *b.first_pitch;
    return start;
}

// What sounds, if anything does, above 1 kHz.
OnsetMeter::Heard OnsetMeter::heard_at(const Beginning& b, std::int64_t step) const
{
    const double over_room = std::pow(10.0, thresholds_.air_over_room.value / 10.0);
    const double faintest =
        b.voice.settled * std::pow(10.0, -thresholds_.air_below_voice.value / 10.0);
    const double below = history_.smooth(Band::fundamental, step, kAirWindow);
    const double voiced = std::max(0.0, below - 1.5 * b.fundamental.room);
    const double settled = std::max(kSilence, b.fundamental.settled - b.fundamental.room);
    const bool before_pitch =
        b.first_pitch && static_cast<double>(step) < *b.first_pitch - kPitchBlur;
    const auto heard_in = [&](Band band, const Beginning::Level& level) {
        const double power = history_.smooth(band, step, kAirWindow);
        if (power < over_room * level.room || power - level.room < faintest) return Heard::room;
        const double own_brightness = std::max(kSilence, level.settled - level.room) / settled;
        const bool bright = power - level.room >= kBrighter * own_brightness * voiced;
        return before_pitch || bright ? Heard::air : Heard::air_or_voice;
    };
    return std::max(heard_in(Band::breath, b.breath), heard_in(Band::hiss, b.hiss));
}

OnsetMeter::Air OnsetMeter::air_before(const Beginning& b, double start) const
{
    const double until = std::min(start, b.first_pitch.value_or(start));
    double first = start;
    double power = 0.0, power_in_voice = 0.0;
    int steps = 0, pause = 0;
    for (auto i = static_cast<std::int64_t>(until - b.width / 2.0 - 3.0);
         i > history_.oldest() && pause <= kAirPause; --i) {
        const Heard heard = heard_at(b, i);
        pause = heard == Heard::room ? pause + 1 : 0;
        if (heard != Heard::air) continue;
        first = static_cast<double>(i);
        power += history_.smooth(Band::breath, i, kAirWindow);
        power_in_voice += history_.smooth(Band::voice, i, kAirWindow);
        ++steps;
    }
    if (steps == 0) return {};
    const double level = decibels(power / steps, b.breath.room);
    return {history_.duration(start - first), Decibels{level}, power_in_voice / steps};
}

Seconds OnsetMeter::rise_of(const Beginning& b, const Air& air, double start) const
{
    Beginning above = b;  // air that leads belongs to what the voice rises from
    if (air.lead >= thresholds_.no_air)
        above.voice.room = std::max(above.voice.room, air.power_in_voice_band);
    const auto share = [&](std::int64_t i) { return share_of_settled(above, Band::voice, i); };
    const auto crossing = [&](std::int64_t i, double level) {  // between i - 1 and i
        const double before = share(i - 1), step = share(i) - before;
        const double part = step > 1e-9 ? std::clamp((level - before) / step, 0.0, 1.0) : 0.0;
        return static_cast<double>(i - 1) + part;
    };
    std::int64_t i = std::max(history_.oldest() + 1, static_cast<std::int64_t>(start));
    while (i < b.end - 1 && share(i) < kUpper) ++i;
    const double top = crossing(i, kUpper);
    while (i > history_.oldest() + 1 && share(i - 1) > 0.1) --i;
    const double seen = top - crossing(i, 0.1);
    const double smear = kSmear * b.width;
    return history_.duration(kToNinety * std::sqrt(std::max(0.0, seen * seen - smear * smear)));
}

Decibels OnsetMeter::overshoot_of(const Beginning& b, double start) const
{
    double loudest = 0.0;
    const auto first = static_cast<std::int64_t>(start);
    for (std::int64_t i = first; i < first + 30; ++i)
        loudest = std::max(loudest, history_.smooth(Band::voice, i, b.width));
    return {decibels(loudest, b.voice.settled)};
}

bool OnsetMeter::starts_irregularly(const Beginning& b, double from) const
{
    if (b.period <= 0.0) return false;
    const Hertz usual{history_.steps_per_second() / b.period};
    for (std::size_t back = 0; back < OnsetHistory::kReadings; ++back) {
        const auto voiced = history_.voiced(back);
        if (!voiced || voiced->step < from || voiced->step > from + kFirstCycles) continue;
        if (!voiced->f0) return true;
        if (std::abs(semitones_between(usual, *voiced->f0).value) > kIrregular.value) return true;
    }
    return false;
}

std::optional<OnsetFeatures> OnsetMeter::features(SampleIndex onset) const
{
    const std::int64_t step = history_.step_at(onset);
    if (step - history_.oldest() < kLeastRoom || history_.end() <= step) return std::nullopt;
    const Beginning b = look_at(step);
    const double start = voice_start(b);
    const Air air = air_before(b, start);
    OnsetFeatures f;
    f.snr = Decibels{decibels(b.voice.settled, b.voice.room)};
    f.air_lead = air.lead;
    f.air_level = air.level;
    f.rise = rise_of(b, air, start);
    if (b.period > 0.0) f.rise_cycles = f.rise.count() * history_.steps_per_second() / b.period;
    f.overshoot = overshoot_of(b, start);
    f.irregular = starts_irregularly(b, start);
    return f;
}

Onset OnsetMeter::measure(SampleIndex onset) const
{
    Onset result;
    const std::optional<OnsetFeatures> f = features(onset);
    if (!f) {
        result.reason = "it began before there was time to know the room";
        return result;
    }
    result.named = class_of(*f, thresholds_);
    result.reason = reason_for(*f, thresholds_);
    if (f->snr < thresholds_.least_snr) return result;  // the features are not to be trusted
    result.rise = f->rise;
    result.rise_cycles = f->rise_cycles;
    result.air_lead = f->air_lead;
    result.air_level = f->air_level;
    result.overshoot = f->overshoot;
    result.irregular = f->irregular;
    result.features = f;
    return result;
}

}  // namespace holdwell
