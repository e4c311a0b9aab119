#include "tests/support/hold_gallery.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "tests/support/gallery_draws.h"

namespace holdwell::test {

namespace {

using Script = SignalScript;

Seconds any_length(Random& random, double low_s, double high_s)
{
    return Seconds{low_s * std::pow(high_s / low_s, random.uniform(0.0, 1.0))};
}

NoiseKind any_room(Random& random)
{
    constexpr NoiseKind kKinds[] = {NoiseKind::white, NoiseKind::pink, NoiseKind::room,
                                    NoiseKind::fan};
    return kKinds[random.below(4)];
}

// A client's note: natural, drifting slowly by 8 cents or so, F3 to G4 and an octave about.
Voice held_voice(Random& random)
{
    const Hertz f0 = any_f0(random, 98.0, 500.0);
    Voice v = natural_voice(random, f0);
    v.f0 = drift(f0, Cents{8.0}, random.next());
    v.level = Dbfs{random.uniform(-38.0, -18.0)};
    v.attack = Seconds{random.uniform(0.015, 0.08)};
    v.decay = Seconds{random.uniform(0.03, 0.12)};
    return v;
}

// A second or so of room, the note, the room again.
Script& rests_about(Script& script, Random& random, const Voice& voice, Seconds length)
{
    return script.silence(Seconds{random.uniform(0.8, 1.3)})
        .voice(voice, length)
        .silence(Seconds{random.uniform(1.0, 1.4)});
}

auto at_snr(double snr_db)
{
    return [=](Script script, Random& random) {
        return rests_about(script, random, held_voice(random), any_length(random, 2.0, 10.0))
            .with_noise(any_room(random), Decibels{snr_db})
            .build();
    };
}

ScriptedTake longest(Script script, Random& random)
{
    return rests_about(script, random, held_voice(random), any_length(random, 15.0, 25.0))
        .with_noise(any_room(random), Decibels{30.0})
        .build();
}

ScriptedTake quiet(Script script, Random& random)
{
    Voice v = held_voice(random);
    v.level = Dbfs{-50.0};
    return rests_about(script, random, v, any_length(random, 2.0, 10.0))
        .with_noise(any_room(random), Dbfs{-75.0})
        .build();
}

ScriptedTake breathy(Script script, Random& random)
{
    Voice v = held_voice(random);
    v.hnr = Decibels{random.uniform(8.0, 12.0)};
    v.r_d = random.uniform(1.8, 2.6);
    return rests_about(script, random, v, any_length(random, 2.0, 8.0))
        .with_noise(any_room(random), Decibels{30.0})
        .build();
}

auto with_gap(double least_ms, double most_ms)
{
    return [=](Script script, Random& random) {
        Voice v = held_voice(random);
        const Seconds length = any_length(random, 4.0, 10.0);
        v.gaps = {{length * random.uniform(0.35, 0.65),
                   Seconds{random.uniform(least_ms, most_ms) / 1000.0}}};
        return rests_about(script, random, v, length)
            .with_noise(any_room(random), Decibels{30.0})
            .build();
    };
}

// Air, so far below the voice, in mid-note.
struct AirBetween {
    Seconds length;
    Decibels below;
};
ScriptedTake with_air_between(Script script, Random& random, const Voice& voice, AirBetween air)
{
    return script.silence(Seconds{random.uniform(0.8, 1.3)})
        .voice(voice, any_length(random, 2.0, 6.0))
        .air(NoiseKind::breath, air.length, voice.level - air.below)
        .voice(voice, any_length(random, 2.0, 6.0))
        .silence(Seconds{random.uniform(1.0, 1.4)})
        .with_noise(any_room(random), Decibels{35.0})
        .build();
}

// A quick breath through the mouth.
ScriptedTake catches_breath(Script script, Random& random)
{
    Voice v = held_voice(random);
    v.attack = Seconds{random.uniform(0.015, 0.03)};
    v.decay = Seconds{random.uniform(0.03, 0.05)};
    const Seconds length{random.uniform(0.18, 0.26)};
    return with_air_between(script, random, v, {length, Decibels{random.uniform(8.0, 20.0)}});
}

// The voice stays away for a moment, its air does not.
ScriptedTake loses_voice(Script script, Random& random)
{
    const Voice v = held_voice(random);
    const Seconds length{random.uniform(0.03, 0.09)};
    return with_air_between(script, random, v, {length, Decibels{random.uniform(12.0, 25.0)}});
}

// Shorter gaps are filled by the echo.
ScriptedTake gap_in_room(Script script, Random& random)
{
    Voice v = held_voice(random);
    const Seconds length = any_length(random, 4.0, 10.0);
    v.gaps = {{length * random.uniform(0.35, 0.65), Seconds{random.uniform(0.20, 0.27)}}};
    return rests_about(script, random, v, length)
        .in_room({Seconds{random.uniform(0.3, 0.6)}, Decibels{random.uniform(2.0, 10.0)}})
        .with_noise(NoiseKind::room, Decibels{45.0})
        .build();
}

ScriptedTake in_rooms(Script script, Random& random)
{
    return rests_about(script, random, held_voice(random), any_length(random, 2.0, 8.0))
        .in_room({Seconds{random.uniform(0.3, 0.6)}, Decibels{random.uniform(2.0, 10.0)}})
        .with_noise(NoiseKind::room, Decibels{35.0})
        .build();
}

ScriptedTake slow_edges(Script script, Random& random)
{
    Voice v = held_voice(random);
    v.attack = Seconds{random.uniform(0.1, 0.3)};
    v.decay = Seconds{random.uniform(0.1, 0.3)};
    return rests_about(script, random, v, any_length(random, 2.0, 8.0))
        .with_noise(any_room(random), Decibels{30.0})
        .build();
}

ScriptedTake abrupt_edges(Script script, Random& random)
{
    Voice v = held_voice(random);
    v.attack = Seconds{0.010};
    v.decay = Seconds{0.030};
    return rests_about(script, random, v, any_length(random, 2.0, 8.0))
        .with_noise(any_room(random), Decibels{30.0})
        .build();
}

ScriptedTake fading(Script script, Random& random)
{
    Voice v = held_voice(random);
    v.decay = Seconds{1.0};
    return rests_about(script, random, v, any_length(random, 3.0, 8.0))
        .with_noise(any_room(random), Decibels{35.0})
        .build();
}

// Pitch alone must not stop the clock: the note wanders and slips by up to two semitones.
ScriptedTake wandering(Script script, Random& random)
{
    Voice v = held_voice(random);
    const Seconds length = any_length(random, 4.0, 9.0);
    const Hertz f0 = any_f0(random, 110.0, 400.0);
    const Hertz slipped = transposed(f0, Cents{random.uniform(-200.0, 200.0)});
    v.f0 = joined(drift(f0, Cents{35.0}, random.next()), length * 0.5,
                  drift(slipped, Cents{35.0}, random.next()));
    return rests_about(script, random, v, length)
        .with_noise(any_room(random), Decibels{30.0})
        .build();
}

ScriptedTake then_breath(Script script, Random& random)
{
    script.silence(1s)
        .air(NoiseKind::breath, Seconds{random.uniform(0.5, 0.9)}, Dbfs{-48.0})
        .silence(Seconds{random.uniform(0.3, 0.6)})
        .voice(held_voice(random), any_length(random, 2.0, 8.0))
        .silence(Seconds{random.uniform(0.08, 0.2)})
        .air(NoiseKind::breath, Seconds{random.uniform(0.4, 0.8)}, Dbfs{-48.0})
        .silence(1s);
    return script.with_noise(NoiseKind::room, Dbfs{-70.0}).build();
}

ScriptedTake then_fry(Script script, Random& random)
{
    const Voice v = held_voice(random);
    script.silence(1s)
        .voice(v, any_length(random, 2.0, 8.0))
        .pulses({}, Seconds{random.uniform(0.7, 1.2)}, v.level - Decibels{6.0})
        .silence(1s);
    return script.with_noise(NoiseKind::room, Dbfs{-70.0}).build();
}

// Syllables of 80 to 300 ms with falling and rising melody, consonants and pauses between.
ScriptedTake talk(Script script, Random& random)
{
    const Hertz f0 = any_f0(random, 95.0, 240.0);
    script.silence(Seconds{0.8});
    for (int k = 0; k < 22; ++k) {
        const Seconds length{random.uniform(0.08, 0.30)};
        const Hertz from = transposed(f0, Cents{random.uniform(-300.0, 400.0)});
        Voice v = natural_voice(random, from);
        v.f0 = glide(from, transposed(from, Cents{random.uniform(-300.0, 200.0)}), length);
        v.level = Dbfs{random.uniform(-30.0, -22.0)};
        script.voice(v, length);
        if (random.below(4) == 0)
            script.air(NoiseKind::sibilant, Seconds{random.uniform(0.06, 0.14)}, Dbfs{-36.0});
        else
            script.silence(Seconds{random.uniform(0.03, 0.12)});
        if (random.below(7) == 0) script.silence(Seconds{random.uniform(0.3, 0.7)});
    }
    return script.silence(1s).with_noise(NoiseKind::room, Dbfs{-65.0}).build();
}

auto blows(Thump thump, double least_s, double most_s)
{
    return [=](Script script, Random& random) {
        script.silence(Seconds{0.8});
        for (double t = 0.0; t < 5.0;) {
            const Seconds pause{random.uniform(least_s, most_s)};
            Thump one = thump;
            one.centre.value *= random.uniform(0.7, 1.4);
            script.blow(one, Seconds{one.decay.count() + pause.count()},
                        Dbfs{random.uniform(-35.0, -20.0)});
            t += one.decay.count() + pause.count();
        }
        return script.with_noise(NoiseKind::room, Dbfs{-65.0}).build();
    };
}

auto air(NoiseKind kind)
{
    return [=](Script script, Random& random) {
        for (int k = 0; k < 3; ++k)
            script.silence(Seconds{0.8})
                .air(kind, Seconds{random.uniform(1.2, 2.5)}, Dbfs{random.uniform(-45.0, -28.0)});
        return script.silence(Seconds{0.8}).with_noise(NoiseKind::room, Dbfs{-65.0}).build();
    };
}

// A machine that starts and runs on.
ScriptedTake fan_starting(Script script, Random& random)
{
    return script.silence(Seconds{1.0})
        .air(NoiseKind::fan, Seconds{5.0}, Dbfs{random.uniform(-45.0, -30.0)})
        .silence(Seconds{0.5})
        .with_noise(NoiseKind::room, Dbfs{-65.0})
        .build();
}

ScriptedTake people_talking(Script script, Random& random)
{
    return script.silence(Seconds{6.0})
        .with_noise(NoiseKind::babble, Dbfs{random.uniform(-50.0, -35.0)})
        .build();
}

}  // namespace

// Shorter ones are nobody's in-breath (common practice, no source).
constexpr Seconds kBreath{0.15};

std::vector<TrueHold> true_holds_of(const ScriptedTake& take, Seconds bridge)
{
    std::vector<TrueHold> holds;
    bool breathed = false;
    for (const TrueSound& s : take.sounds) {
        if (s.kind == SoundKind::breath && s.end - s.begin >= kBreath) breathed = true;
        if (s.kind != SoundKind::voice) continue;
        const bool goes_on = !holds.empty() && !std::exchange(breathed, false) &&
                             s.heard_begin - holds.back().offset < bridge;
        if (goes_on) {
            holds.back().gaps.push_back(s.heard_begin - holds.back().offset);
            holds.back().offset = s.heard_end;
        } else {
            holds.push_back({s.heard_begin, s.heard_end, {}});
        }
    }
    std::erase_if(holds, [](const TrueHold& h) { return h.offset - h.onset < 1s; });
    return holds;
}

const std::vector<HoldCategory>& hold_categories()
{
    static const std::vector<HoldCategory> all{
        {"snr 40", at_snr(40.0)},
        {"snr 30", at_snr(30.0)},
        {"snr 20", at_snr(20.0)},
        {"15 to 25 s", longest},
        {"-50 in -75 dBFS", quiet},
        {"breathy", breathy},
        {"gap 20-100 ms", with_gap(20.0, 100.0)},
        {"gap 100-270 ms", with_gap(100.0, 270.0)},
        {"gap 340-600 ms", with_gap(340.0, 600.0)},
        {"gap in a room", gap_in_room},
        {"airy gap", loses_voice},
        {"in-breath 180-260 ms", catches_breath},
        {"reverberant", in_rooms},
        {"slow edges", slow_edges},
        {"abrupt edges", abrupt_edges},
        {"1 s fade", fading},
        {"wandering pitch", wandering},
        {"breath about it", then_breath},
        {"fry at the end", then_fry},
    };
    return all;
}

const std::vector<HoldCategory>& not_hold_categories()
{
    static const std::vector<HoldCategory> all{
        {"talk", talk},
        {"clicks", blows({Hertz{2500.0}, Seconds{0.02}}, 0.2, 0.8)},
        {"typing", blows({Hertz{1800.0}, Seconds{0.04}}, 0.05, 0.25)},
        {"slammed door", blows({Hertz{110.0}, Seconds{0.6}}, 1.0, 2.0)},
        {"breath", air(NoiseKind::breath)},
        {"/s/", air(NoiseKind::sibilant)},
        {"fan", fan_starting},
        {"people talking", people_talking},
    };
    return all;
}

ScriptedTake make_take(const HoldCategory& category, int index)
{
    const std::uint64_t seed = seed_of(category.name, index);
    Random random{seed};
    return category.make(Script{rate_of(index), seed ^ 0x51}, random);
}

}  // namespace holdwell::test
