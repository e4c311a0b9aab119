#include "tests/support/demo_sessions.h"

#include <algorithm>

namespace holdwell::test {

namespace {

constexpr SampleRate kRate{48'000.0};
constexpr Seconds kRoom{1.5};

Voice client_voice()
{
    Voice v;
    v.jitter_percent = 0.5;
    v.shimmer_percent = 3.0;
    v.hnr = Decibels{20.0};
    v.attack = 80ms;
    v.decay = 80ms;
    return v;
}

Hertz median_f0(const ScriptedTake& take)
{
    std::vector<double> all;
    for (Seconds t{0.0}; t < take.length(); t += 10ms)
        if (const auto f0 = take.f0_at(t)) all.push_back(f0->value);
    const auto middle = all.begin() + static_cast<std::ptrdiff_t>(all.size() / 2);
    std::nth_element(all.begin(), middle, all.end());
    return {*middle};
}

// Edges and pauses of all sounds of that kind, taken as one.
DemoTruth edges_of(const ScriptedTake& take, SoundKind kind)
{
    DemoTruth truth;
    std::optional<Seconds> last;
    for (const TrueSound& s : take.sounds) {
        if (s.kind != kind) continue;
        if (last)
            truth.interruptions.push_back({*last, s.heard_begin - *last});
        else
            truth.onset = s.heard_begin;
        last = truth.offset = s.heard_end;
    }
    return truth;
}

DemoTruth hold_truth(const ScriptedTake& take)
{
    DemoTruth truth = edges_of(take, SoundKind::voice);
    truth.exercise = "hold";
    truth.f0_median = median_f0(take);
    truth.deviation = interval_between(kDemoTarget, *truth.f0_median);
    return truth;
}

DemoSession good_hold()
{
    Voice v = client_voice();
    v.f0 = drift(kDemoTarget, Cents{10.0}, 4);  // six sines of 5.8 cents: never beyond 35
    const ScriptedTake take = SignalScript{kRate, 701}
                                  .silence(kRoom)
                                  .voice(v, 14s)
                                  .silence(kRoom)
                                  .with_noise(NoiseKind::room, Decibels{40.0})
                                  .build();
    return {"1-good-hold",
            "F4 on an open vowel for 14 s, begun gently over 80 ms, drifting slowly by less than "
            "35 cents; jitter 0.5 %, shimmer 3 %, harmonics 20 dB over the breath in the voice; a "
            "room 40 dB below.",
            take, hold_truth(take)};
}

DemoSession near_miss_hold()
{
    Voice v = client_voice();
    v.f0 = drift(transposed(kDemoTarget, Cents{-80.0}), Cents{6.0}, 12);
    v.gaps = {{Seconds{4.2}, 150ms}};
    const ScriptedTake take = SignalScript{kRate, 702}
                                  .silence(kRoom)
                                  .voice(v, 8s)
                                  .silence(kRoom)
                                  .with_noise(NoiseKind::room, Decibels{40.0})
                                  .build();
    return {"2-near-miss-hold",
            "The same voice about 80 cents below F4 for 8 s, silent for 150 ms after 4.2 s; a room "
            "40 dB below.",
            take, hold_truth(take)};
}

DemoSession breathy_quiet_hold()
{
    Voice v = client_voice();
    v.f0 = drift(kDemoTarget, Cents{8.0}, 21);
    v.r_d = 2.2;
    v.hnr = Decibels{8.0};
    v.level = Dbfs{-45.0};
    const ScriptedTake take = SignalScript{kRate, 703}
                                  .silence(kRoom)
                                  .air(NoiseKind::breath, 350ms, Dbfs{-53.0})
                                  .voice(v, 6s)
                                  .silence(kRoom)
                                  .with_noise(NoiseKind::room, Decibels{20.0})
                                  .build();
    DemoTruth truth = hold_truth(take);
    truth.air_lead = truth.onset - take.sounds.front().heard_begin;
    return {"3-breathy-quiet-hold",
            "F4 for 6 s at -45 dBFS, breathy (harmonics 8 dB over the breath in the voice), with "
            "350 ms of air before it; a noisy room only 20 dB below.",
            take, truth};
}

DemoSession rising_glide()
{
    constexpr Hertz kFirst{174.6}, kBefore{247.0}, kAfter{349.2}, kLast{523.3};
    constexpr Seconds kHalf{1.8};
    Voice v = client_voice();
    v.f0 = joined(glide(kFirst, kBefore, kHalf), kHalf, glide(kAfter, kLast, kHalf));
    const ScriptedTake take = SignalScript{kRate, 704}
                                  .silence(kRoom)
                                  .voice(v, 2.0 * kHalf)
                                  .silence(kRoom)
                                  .with_noise(NoiseKind::room, Decibels{40.0})
                                  .build();
    DemoTruth truth = edges_of(take, SoundKind::voice);
    truth.exercise = "glide up";
    truth.f0_first = kFirst;
    truth.f0_last = kLast;
    truth.breaks = {{kRoom + kHalf, semitones_between(kBefore, kAfter)}};
    return {"4-rising-glide",
            "A glide up from F3 to C5 in 3.6 s that breaks from B3 to F4 half way; a room 40 dB "
            "below.",
            take, truth};
}

DemoSession quiet_s()
{
    const ScriptedTake take = SignalScript{kRate, 705}
                                  .silence(kRoom)
                                  .air(NoiseKind::sibilant, Seconds{7.0}, Dbfs{-48.0})
                                  .silence(kRoom)
                                  .with_noise(NoiseKind::room, Dbfs{-62.0})
                                  .build();
    DemoTruth truth = edges_of(take, SoundKind::sibilant);
    truth.exercise = "s";
    return {"5-quiet-s", "An /s/ of 7 s at -48 dBFS in a room of -62 dBFS.", take, truth};
}

}  // namespace

std::vector<DemoSession> demo_sessions()
{
    return {good_hold(), near_miss_hold(), breathy_quiet_hold(), rising_glide(), quiet_s()};
}

}  // namespace holdwell::test
