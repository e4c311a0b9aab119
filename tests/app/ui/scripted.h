#pragma once
// A client who never was: updates as the worker would send them, for tests and pictures of the
// window. Her voice is a formula: a start a little low, a slow waver, and one excursion.

#include <cmath>
#include <string>
#include <vector>

#include "app/engine/messages.h"

namespace holdwell::scripted {

inline constexpr SampleRate kRate{48'000.0};
inline constexpr std::int64_t kHop = 480;  // 10 ms

struct Voice {
    Drill drill;
    Seconds length{12.4};
    double offset_cents{0.0};      // all of it sharp or flat
    double excursion_cents{70.0};  // between the 5th and the 7th second
    int octaves_off{0};
    std::vector<Seconds> gaps;  // 120 ms each
    Dbfs level{-24.0};
    Dbfs room{-66.0};
    OnsetClass start{OnsetClass::easy};
};

inline double deviation_at(const Voice& v, double t)
{
    const double start = -150.0 * std::exp(-t / 0.25);
    const double waver =
        9.0 * std::sin(3.1 * t) + 5.0 * std::sin(11.0 * t) + 3.0 * std::sin(29.0 * t);
    const double excursion = v.excursion_cents * std::exp(-(t - 5.8) * (t - 5.8) / 0.5);
    return start + waver + excursion + v.offset_cents + 1200.0 * v.octaves_off;
}

inline bool is_in_gap(const Voice& v, double t)
{
    for (const Seconds gap : v.gaps) {
        if (t >= gap.count() && t < gap.count() + 0.12) return true;
    }
    return false;
}

inline FrameReading reading_at(SampleIndex hop, const Voice& v)
{
    FrameReading r;
    r.hop_begin = hop;
    r.centre = hop;
    r.level = r.hop_level = v.room;
    r.noise_floor = v.room;
    return r;
}

// Silence of this length, from `from`; the same room as the voice's.
inline std::vector<Update> silence(const Voice& v, SampleIndex from, Seconds length)
{
    std::vector<Update> updates;
    const auto hops = static_cast<std::int64_t>(length.count() * 100.0);
    for (std::int64_t i = 0; i < hops; ++i) {
        updates.emplace_back(FrameHeard{reading_at(from + SampleCount{i * kHop}, v), std::nullopt});
    }
    return updates;
}

// The part of the hold up to `until`, beginning at `onset`.
inline std::vector<Update> sounding(const Voice& v, SampleIndex onset, Seconds until)
{
    std::vector<Update> updates;
    updates.emplace_back(StageChanged{Stage::sounding});
    const auto hops = static_cast<std::int64_t>(until.count() * 100.0);
    const Hertz target = frequency_of(v.drill.target);
    Seconds in_band{};
    for (std::int64_t i = 0; i <= hops; ++i) {
        const double t = static_cast<double>(i) / 100.0;
        FrameReading r = reading_at(onset + SampleCount{i * kHop}, v);
        r.level = r.hop_level = v.level;
        const double cents = deviation_at(v, t);
        if (!is_in_gap(v, t)) {
            r.phonation = Phonation::voiced;
            r.f0 = transposed(target, Cents{cents});
            r.f0_error = Cents{0.2};
            r.f0_slope = 0.0;
            r.confidence = 0.98;
        }
        if (std::abs(cents - 1200.0 * v.octaves_off) <= v.drill.band.value) in_band += 10ms;
        UnderWay under_way;
        under_way.onset = onset;
        under_way.so_far = Seconds{t};
        under_way.in_band = in_band;
        under_way.octaves_off = v.octaves_off;
        if (t > 0.4) {
            under_way.start.emplace();
            under_way.start->named = v.start;
        }
        updates.emplace_back(FrameHeard{r, under_way});
    }
    return updates;
}

inline Hold hold_of(const Voice& v, SampleIndex onset)
{
    Hold hold;
    hold.onset = onset;
    hold.offset = onset + samples_in(v.length, kRate);
    Seconds in_band{};
    for (int i = 0; i < static_cast<int>(v.length.count() * 100.0); ++i) {
        const double off = deviation_at(v, i / 100.0) - 1200.0 * v.octaves_off;
        if (std::abs(off) <= v.drill.band.value) in_band += 10ms;
    }
    hold.in_band = in_band;
    hold.deviation = Cents{v.offset_cents + 1.4};
    hold.f0_median = transposed(frequency_of(v.drill.target), *hold.deviation);
    hold.f0_sd = Cents{14.2};
    hold.octaves_off = v.octaves_off;
    hold.level = v.level;
    hold.snr = v.level - v.room;
    for (const Seconds gap : v.gaps) {
        hold.interruptions.push_back({onset + samples_in(gap, kRate), Seconds{0.12}});
    }
    hold.start.named = v.start;
    hold.start.rise = Seconds{0.062};
    hold.start.air_lead = Seconds{0.0};
    hold.start.reason = "Full level in 62 ms, without air before it: an easy start.";
    return hold;
}

// A whole trial: silence, the hold, its end.
inline std::vector<Update> trial(const Voice& v, SampleIndex onset)
{
    std::vector<Update> updates = sounding(v, onset, v.length);
    updates.emplace_back(TrialFinished{v.drill, hold_of(v, onset)});
    updates.emplace_back(StageChanged{Stage::finished});
    return updates;
}

inline std::vector<Update> beginning(const std::string& device = "Desk microphone")
{
    std::vector<Update> updates;
    updates.emplace_back(MicrophonesListed{{device, "Built-in microphone"}, device});
    updates.emplace_back(CaptureChanged{CaptureState::live, device, "", kRate});
    updates.emplace_back(StageChanged{Stage::ready});
    return updates;
}

inline std::vector<Update> glide(const Voice& v, SampleIndex onset, Seconds until)
{
    std::vector<Update> updates;
    updates.emplace_back(StageChanged{Stage::sounding});
    for (int i = 0; i <= static_cast<int>(until.count() * 100.0); ++i) {
        const double t = i / 100.0;
        FrameReading r = reading_at(onset + SampleCount{i * kHop}, v);
        r.level = r.hop_level = v.level;
        // Two octaves in six seconds from A3, a leap of four semitones at the third, a short gap.
        double semitones = 4.0 * t + (t > 3.0 ? 4.0 : 0.0) + 0.2 * std::sin(9.0 * t);
        if (v.drill.kind == DrillKind::falling_glide) semitones = 28.0 - semitones;
        if (t < 4.2 || t > 4.35) r.f0 = transposed(Hertz{220.0}, Cents{100.0 * semitones});
        UnderWay under_way;
        under_way.onset = onset;
        under_way.so_far = Seconds{t};
        updates.emplace_back(FrameHeard{r, under_way});
    }
    return updates;
}

}  // namespace holdwell::scripted
