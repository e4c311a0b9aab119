#include "tests/support/pitch_gallery.h"

#include <cmath>

#include "tests/support/gallery_draws.h"

namespace holdwell::test {

namespace {

using Script = SignalScript;

constexpr Seconds kRest{0.25};
constexpr Seconds kHold{1.0};

// Where the drills lie, and three notes lower: A2 to A4.
Hertz drill_f0(Random& random) { return any_f0(random, 110.0, 440.0); }

// For noise: little of its own trouble.
Voice firm_voice(Random& random)
{
    Voice v = plain_voice(random, drill_f0(random));
    v.jitter_percent = 0.3;
    return v;
}

Script& between_rests(Script& script, const Voice& voice, Seconds length = kHold)
{
    return script.silence(kRest).voice(voice, length).silence(kRest);
}

constexpr Dbfs kQuietRoom{-84.0};

ScriptedTake clean(Script script, Random& random)
{
    const Hertz f0 = any_f0(random, 65.0, 1000.0);
    Voice v = plain_voice(random, f0);
    v.source = Source::harmonics;
    return between_rests(script, v).build();
}

ScriptedTake pulses(Script script, Random& random)
{
    return between_rests(script, plain_voice(random, any_f0(random, 65.0, 1000.0))).build();
}

ScriptedTake natural(Script script, Random& random)
{
    const Voice v = natural_voice(random, any_f0(random, 65.0, 1000.0));
    return between_rests(script, v).with_noise(NoiseKind::room, kQuietRoom).build();
}

auto with_hnr(double hnr_db)
{
    return [=](Script script, Random& random) {
        Voice v = natural_voice(random, drill_f0(random));
        v.hnr = Decibels{hnr_db};
        return between_rests(script, v).with_noise(NoiseKind::room, kQuietRoom).build();
    };
}

auto with_noise(NoiseKind kind, double snr_db)
{
    return [=](Script script, Random& random) {
        return between_rests(script, firm_voice(random)).with_noise(kind, Decibels{snr_db}).build();
    };
}

// What the movement itself costs is seen on harmonics without perturbation: a moving voice sent
// through a resonance comes out late by the resonance's own delay, each harmonic differently, so
// that the f0 of the throat is no longer quite that of the air.
enum class Perturbed { no, yes };

Voice moving_voice(Random& random, Hertz f0, Perturbed perturbed)
{
    Voice v = perturbed == Perturbed::yes ? natural_voice(random, f0) : plain_voice(random, f0);
    if (perturbed == Perturbed::yes)
        v.jitter_percent = 0.3;
    else
        v.source = Source::harmonics;
    return v;
}

// There and back within `length`: a raised cosine of d octaves is at most pi d / length octaves a
// second.
auto gliding(Seconds length, Perturbed perturbed)
{
    return [=](Script script, Random& random) {
        const Hertz low = any_f0(random, 90.0, 165.0);
        const double octaves = random.uniform(1.0, 2.55);
        Voice v = moving_voice(random, low, perturbed);
        v.f0 = swell(low, Hertz{low.value * std::exp2(octaves)}, length);
        return between_rests(script, v, length).build();
    };
}

ScriptedTake vibrating(Script script, Random& random, Perturbed perturbed)
{
    const Hertz f0 = any_f0(random, 130.0, 520.0);
    Voice v = moving_voice(random, f0, perturbed);
    v.f0 = vibrato(f0, {Hertz{5.5}, Cents{50.0}});
    return between_rests(script, v, Seconds{1.5}).build();
}

auto vibrating(Perturbed perturbed)
{
    return [=](Script script, Random& random) { return vibrating(script, random, perturbed); };
}

ScriptedTake weak_fundamental(Script script, Random& random)
{
    const Voice v = natural_voice(random, any_f0(random, 100.0, 390.0));
    return between_rests(script, v)
        .high_passed(Hertz{400.0})
        .with_noise(NoiseKind::white, Decibels{45.0})
        .build();
}

ScriptedTake formant_on_harmonic(Script script, Random& random)
{
    const Hertz f0 = any_f0(random, 110.0, 440.0);
    Voice v = natural_voice(random, f0);
    const int harmonic = 2 + random.below(2);
    v.tract[0] = {{f0.value * harmonic}, {random.uniform(40.0, 70.0)}};
    for (std::size_t k = 1; k < v.tract.size(); ++k)
        v.tract[k].centre.value = std::max(v.tract[k].centre.value, v.tract[0].centre.value * 1.4);
    return between_rests(script, v).with_noise(NoiseKind::room, kQuietRoom).build();
}

ScriptedTake clipped(Script script, Random& random)
{
    Voice v = natural_voice(random, any_f0(random, 100.0, 500.0));
    v.level = Dbfs{-12.0};
    return between_rests(script, v).overdriven(Decibels{12.0}).build();
}

auto diplophonic(double least, double most)
{
    return [=](Script script, Random& random) {
        Voice v = natural_voice(random, any_f0(random, 110.0, 400.0));
        v.jitter_percent = 0.3;
        const double depth = random.uniform(least, most);
        if (random.below(3) == 0)
            v.diplophonia.period = depth / 12.0;  // a period matters more than an amplitude
        else
            v.diplophonia.amplitude = depth;
        return between_rests(script, v).build();
    };
}

ScriptedTake lowest(Script script, Random& random)
{
    const Voice v = natural_voice(random, any_f0(random, 65.0, 82.0));
    return between_rests(script, v).with_noise(NoiseKind::room, kQuietRoom).build();
}

auto at_level(double level_dbfs)
{
    return [=](Script script, Random& random) {
        Voice v = natural_voice(random, any_f0(random, 100.0, 440.0));
        v.level = Dbfs{level_dbfs};
        return between_rests(script, v)
            .with_noise(NoiseKind::white, kQuietRoom)
            .quantised(16)
            .build();
    };
}

ScriptedTake reverberant(Script script, Random& random)
{
    const Voice v = natural_voice(random, any_f0(random, 110.0, 440.0));
    return between_rests(script, v)
        .in_room({Seconds{random.uniform(0.3, 0.6)}, Decibels{random.uniform(0.0, 8.0)}})
        .with_noise(NoiseKind::room, Dbfs{-70.0})
        .build();
}

template <typename Category>
ScriptedTake make(const Category& category, int index)
{
    const std::uint64_t seed = seed_of(category.name, index);
    Random random{seed};
    return category.make(Script{rate_of(index), seed ^ 0x51}, random);
}

auto only(NoiseKind kind)
{
    return [=](Script script, Random& random) {
        script.silence(Seconds{3.0});
        return script.with_noise(kind, Dbfs{random.uniform(-70.0, -40.0)}).build();
    };
}

// Breath or /s/ beginning and ending in a quiet room, as it does between holds.
auto bursts(NoiseKind kind)
{
    return [=](Script script, Random& random) {
        for (int k = 0; k < 3; ++k)
            script.silence(Seconds{0.4})
                .air(kind, Seconds{random.uniform(0.3, 1.0)}, Dbfs{random.uniform(-50.0, -30.0)});
        return script.silence(Seconds{0.4}).with_noise(NoiseKind::room, Dbfs{-65.0}).build();
    };
}

}  // namespace

const std::vector<PitchCategory>& pitch_categories()
{
    constexpr Seconds kCalm{4.0};
    constexpr Seconds kBrisk{1.2};
    static const std::vector<PitchCategory> all{
        {"clean harmonics", {0.01, 0.05, 0.0, 100.0}, clean},
        {"clean pulses", {0.01, 0.05, 0.0, 100.0}, pulses},
        {"natural", {1.2, 4.0, 0.0, 99.0}, natural},
        {"hnr 10", {1.9, 6.0, 0.5, 99.0}, with_hnr(10.0)},
        {"hnr 5", {{}, {}, 2.0, {}}, with_hnr(5.0)},
        {"white 20", {{}, {}, 0.0, 99.0}, with_noise(NoiseKind::white, 20.0)},
        {"white 10", {1.1, {}, 0.0, 99.0}, with_noise(NoiseKind::white, 10.0)},
        {"white 0", {{}, {}, 0.0, 99.0}, with_noise(NoiseKind::white, 0.0)},
        {"pink 10", {1.1, {}, 0.0, 99.0}, with_noise(NoiseKind::pink, 10.0)},
        {"pink 0", {{}, {}, 0.0, 99.0}, with_noise(NoiseKind::pink, 0.0)},
        {"hum 10", {1.1, {}, 0.0, 99.0}, with_noise(NoiseKind::hum_50, 10.0)},
        {"hum 0", {{}, {}, 0.0, 99.0}, with_noise(NoiseKind::hum_50, 0.0)},
        {"60 Hz hum 10", {1.1, {}, 0.0, 99.0}, with_noise(NoiseKind::hum_60, 10.0)},
        {"60 Hz hum 0", {{}, {}, 0.0, 99.0}, with_noise(NoiseKind::hum_60, 0.0)},
        {"babble 20", {{}, {}, 0.0, {}}, with_noise(NoiseKind::babble, 20.0)},
        {"babble 10", {{}, {}, 2.0, {}}, with_noise(NoiseKind::babble, 10.0)},
        {"glide", {1.1, 3.5, 0.0, {}}, gliding(kCalm, Perturbed::no)},
        {"fast glide", {2.5, 9.0, 0.0, {}}, gliding(kBrisk, Perturbed::no)},
        {"vibrato", {1.5, 3.5, 0.0, {}}, vibrating(Perturbed::no)},
        {"natural glide", {{}, {}, 0.0, {}}, gliding(kCalm, Perturbed::yes)},
        {"natural vibrato", {{}, {}, 0.0, {}}, vibrating(Perturbed::yes)},
        {"weak f0", {{}, {}, 0.0, 99.0}, weak_fundamental},
        {"f1 on 2, 3 f0", {{}, {}, 0.0, 99.0}, formant_on_harmonic},
        {"clipped", {{}, {}, 0.0, 99.0}, clipped},
        {"diplo 5-10", {{}, {}, 0.0, 99.0}, diplophonic(0.05, 0.10)},
        {"diplo 20-30", {{}, {}, 17.0, {}}, diplophonic(0.20, 0.30)},
        {"65-82 Hz", {2.0, 6.0, 0.0, {}}, lowest},
        {"-40 dBFS", {{}, {}, 0.0, 100.0}, at_level(-40.0)},
        {"-50 dBFS", {{}, {}, 0.0, 100.0}, at_level(-50.0)},
        {"-60 dBFS", {{}, {}, 0.0, 100.0}, at_level(-60.0)},
        {"reverberant", {{}, {}, 0.0, {}}, reverberant},
    };
    return all;
}

const std::vector<VoicelessCategory>& voiceless_categories()
{
    static const std::vector<VoicelessCategory> all{
        {"only white", only(NoiseKind::white)},    {"only pink", only(NoiseKind::pink)},
        {"only room", only(NoiseKind::room)},      {"only fan", only(NoiseKind::fan)},
        {"only hum", only(NoiseKind::hum_50)},     {"breath", bursts(NoiseKind::breath)},
        {"hiss /s/", bursts(NoiseKind::sibilant)},
    };
    return all;
}

ScriptedTake make_take(const PitchCategory& category, int index) { return make(category, index); }

ScriptedTake make_take(const VoicelessCategory& category, int index)
{
    return make(category, index);
}

ScriptedTake make_voicing_take(int index)
{
    const std::uint64_t seed = seed_of("voicing", index);
    Random random{seed};
    Script script{rate_of(index), seed ^ 0x51};
    for (int k = 0; k < 4; ++k) {
        script.silence(Seconds{random.uniform(0.3, 0.5)});
        const auto air = k % 2 == 0 ? NoiseKind::breath : NoiseKind::sibilant;
        script.air(air, Seconds{random.uniform(0.2, 0.4)}, Dbfs{random.uniform(-48.0, -36.0)});
        script.silence(Seconds{random.uniform(0.2, 0.4)});
        script.voice(natural_voice(random, any_f0(random, 90.0, 500.0)), Seconds{0.8});
    }
    return script.silence(Seconds{0.4}).with_noise(NoiseKind::room, Dbfs{-62.0}).build();
}

ScriptedTake make_onset_take(int index)
{
    const std::uint64_t seed = seed_of("onset", index);
    Random random{seed};
    Script script{rate_of(index), seed ^ 0x51};
    for (int k = 0; k < 8; ++k) {
        Voice v = natural_voice(random, any_f0(random, 100.0, 500.0));
        v.attack = Seconds{0.005};
        script.silence(Seconds{random.uniform(0.3, 0.4)}).voice(v, Seconds{0.3});
    }
    return script.silence(Seconds{0.3}).with_noise(NoiseKind::room, Dbfs{-70.0}).build();
}

ScriptedTake make_delay_take(int index)
{
    const std::uint64_t seed = seed_of("delay", index);
    Random random{seed};
    const Hertz low = any_f0(random, 100.0, 250.0);
    Voice v{.f0 = swell(low, Hertz{low.value * 2.0}, Seconds{2.0}),
            .tract = any_tract(random, low),
            .source = Source::harmonics};
    Script script{SampleRate{48'000.0}, seed ^ 0x51};
    return between_rests(script, v, Seconds{2.0}).build();
}

}  // namespace holdwell::test
