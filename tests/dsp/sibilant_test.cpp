#include "dsp/sibilant.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

#include "tests/dsp/hiss_material.h"
#include "tests/support/allocation_guard.h"
#include "tests/support/signal_script.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

double ms_between(SampleIndex at, Seconds truth)
{
    return 1000.0 * (time_of(at, kHissRate) - truth).count();
}

struct Errors {
    std::vector<double> duration_ms, onset_ms, offset_ms;
    int wrong_count{0};
};

double percentile(std::vector<double> values, double share)
{
    REQUIRE_FALSE(values.empty());
    std::sort(values.begin(), values.end());
    return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
}

// One /s/ of 1 to 9 s with edges of 10 to 120 ms, from a random mouth.
void time_one(NoiseKind room, Decibels over_room, std::uint64_t seed, Errors& errors)
{
    Random random{seed};
    const Seconds length{random.uniform(1.0, 9.0)};
    const Seconds at{random.uniform(0.5, 1.5)};
    const Ramps ramps{Seconds{random.uniform(0.01, 0.08)}, Seconds{random.uniform(0.02, 0.12)}};
    std::vector<double> s = coloured_hiss(some_colour(random), length, random.next());
    shape(s, ramps);
    HissScene scene{at + length + 1s, random.next()};
    scene.room(room, Dbfs{random.uniform(-65.0, -45.0)})
        .room(NoiseKind::white, Dbfs{random.uniform(-80.0, -65.0)})  // the microphone's own
        .hiss(s, at, over_room);
    const SibilantsHeard heard = time_sibilants(scene.samples());
    if (heard.s_holds.size() != 1) {
        ++errors.wrong_count;
        return;
    }
    const double begin = ms_between(heard.s_holds[0].onset, at);
    const double end = ms_between(heard.s_holds[0].offset, at + length);
    errors.onset_ms.push_back(std::abs(begin));
    errors.offset_ms.push_back(std::abs(end));
    errors.duration_ms.push_back(std::abs(end - begin));
}

std::vector<float> samples_with(const std::vector<double>& sound, Dbfs level, Seconds length)
{
    HissScene scene{length + 2s, 21};
    scene.room(NoiseKind::room, Dbfs{-60.0}).sound(sound, 1s, level);
    return scene.samples();
}

std::vector<double> even_s(Seconds length, std::uint64_t seed)
{
    std::vector<double> s = noise(NoiseKind::sibilant, length, kHissRate, seed);
    shape(s, {});
    return s;
}

// `pitch` says of a hop's begin whether it held one.
template <typename PitchAt>
SibilantsHeard time_with(const std::vector<float>& x, PitchAt pitch)
{
    const AnalysisConfig config{.sample_rate = kHissRate};
    FricationMeter meter{config};
    SibilantTimer timer{config};
    for (std::size_t i = 0; i + 480 <= x.size(); i += 480) {
        const FricationReading r = meter.push(std::span<const float>{x}.subspan(i, 480));
        timer.push(r, pitch(time_of(r.begin, kHissRate)) ? Pitch::present : Pitch::absent);
    }
    timer.finish();
    return timer.take_finished();
}

}  // namespace

TEST_CASE("an /s/ from 10 dB over the room is timed to 25 ms in the median and 60 ms at worst")
{
    const NoiseKind rooms[] = {NoiseKind::white, NoiseKind::pink, NoiseKind::room, NoiseKind::fan,
                               NoiseKind::hum_50};
    Errors errors;
    for (const NoiseKind room : rooms)
        for (const double over_room : {10.0, 12.0, 20.0, 40.0})
            for (std::uint64_t k = 0; k < 4; ++k)
                time_one(room, Decibels{over_room},
                         4000 + 97 * static_cast<std::uint64_t>(room) +
                             13 * static_cast<std::uint64_t>(over_room) + k,
                         errors);
    MESSAGE("80 /s/: duration median ", percentile(errors.duration_ms, 0.5), " ms, worst ",
            percentile(errors.duration_ms, 1.0), " ms; onset median ",
            percentile(errors.onset_ms, 0.5), " ms, offset median ",
            percentile(errors.offset_ms, 0.5), " ms");
    CHECK(errors.wrong_count == 0);
    CHECK(percentile(errors.duration_ms, 0.5) <= 25.0);
    CHECK(percentile(errors.duration_ms, 1.0) <= 60.0);
}

TEST_CASE("an /s/ is timed while others talk, if it is 25 dB over them above 4 kHz")
{
    Errors errors;
    for (std::uint64_t k = 0; k < 20; ++k)
        time_one(NoiseKind::babble, Decibels{25.0}, 9000 + k, errors);
    CHECK(errors.wrong_count == 0);
    CHECK(percentile(errors.duration_ms, 0.5) <= 25.0);
    CHECK(percentile(errors.duration_ms, 1.0) <= 60.0);
}

TEST_CASE("fan, breath, tap and hiss that was there before are not timed as an /s/")
{
    for (std::uint64_t k = 0; k < 50; ++k) {
        CAPTURE(k);
        Random random{700 + k};
        const Seconds length{random.uniform(1.0, 6.0)};
        // Softer, a tap over this room of -60 dBFS is heard above 4 kHz alone, as an /s/ would be.
        const Dbfs level{random.uniform(-45.0, -25.0)};
        for (const NoiseKind kind : {NoiseKind::fan, NoiseKind::breath, NoiseKind::white}) {
            CAPTURE(static_cast<int>(kind));
            std::vector<double> sound = noise(kind, length, kHissRate, random.next());
            shape(sound, {Seconds{random.uniform(0.01, 0.3)}, Seconds{random.uniform(0.01, 0.3)}});
            CHECK(time_sibilants(samples_with(sound, level, length)).s_holds.empty());
        }
        HissScene before{length + 1s, random.next()};
        before.room(NoiseKind::sibilant, level);
        CHECK(time_sibilants(before.samples()).s_holds.empty());
    }
}

TEST_CASE("bursts of hiss, as of cymbals and speech, are not one long /s/")
{
    for (std::uint64_t k = 0; k < 50; ++k) {
        CAPTURE(k);
        Random random{900 + k};
        std::vector<double> bursts;
        while (bursts.size() < 4 * 48'000) {
            std::vector<double> burst = noise(
                NoiseKind::sibilant, Seconds{random.uniform(0.04, 0.12)}, kHissRate, random.next());
            for (std::size_t i = 0; i < burst.size(); ++i)
                burst[i] *= std::exp(-static_cast<double>(i) / random.uniform(1000.0, 1500.0));
            bursts.insert(bursts.end(), burst.begin(), burst.end());
            bursts.resize(bursts.size() + static_cast<std::size_t>(random.uniform(2400, 9000)));
        }
        for (const Sibilant& s : time_sibilants(samples_with(bursts, Dbfs{-35.0}, 4.5s)).s_holds)
            CHECK(duration_of(s.offset - s.onset, kHissRate) < 1s);
    }
}

TEST_CASE("a voice is no /s/ and no /z/, a voice with frication is a /z/")
{
    for (std::uint64_t k = 0; k < 50; ++k) {
        CAPTURE(k);
        Random random{1100 + k};
        const double f0_hz = 110.0 * std::exp2(random.uniform(0.0, 2.0));
        Voice voice{.f0 = steady(Hertz{f0_hz})};
        voice.tract = tract_of(static_cast<Vowel>(random.below(4)),
                               f0_hz > 180.0 ? Speaker::high : Speaker::low);
        voice.r_d = random.uniform(0.7, 2.0);
        voice.hnr = Decibels{random.uniform(12.0, 25.0)};
        const Dbfs level{random.uniform(-45.0, -20.0)};
        const std::vector<double> vowel = render(voice, 3s, kHissRate, random.next()).samples;
        const auto always = [](Seconds t) { return t >= 1.02s && t < 3.98s; };

        const std::vector<float> sung = samples_with(vowel, level, 3s);
        const SibilantsHeard of_vowel = time_with(sung, always);
        CHECK(of_vowel.s_holds.empty());
        CHECK(of_vowel.z_holds.empty());
        // Also where no pitch is found.
        CHECK(time_sibilants(sung).s_holds.empty());

        std::vector<double> z = even_s(3s, random.next());
        const double hiss = gain_of(Decibels{random.uniform(-6.0, 6.0)});
        for (std::size_t i = 0; i < z.size() && i < vowel.size(); ++i)
            z[i] = hiss * z[i] + vowel[i] / std::sqrt(mean_square_of(voice.level));
        const SibilantsHeard of_z = time_with(samples_with(z, level, 3s), always);
        CHECK(of_z.s_holds.empty());
        REQUIRE(of_z.z_holds.size() == 1);
        CHECK(std::abs(ms_between(of_z.z_holds[0].onset, 1s)) <= 60.0);
        CHECK(std::abs(ms_between(of_z.z_holds[0].offset, 4s)) <= 60.0);
    }
}

TEST_CASE("an /s/ that turns into a /z/ is one of each, one after the other")
{
    const std::vector<float> samples = samples_with(even_s(4s, 31), Dbfs{-35.0}, 4s);
    const auto heard = time_with(samples, [](Seconds t) { return t >= 3s && t < 5s; });
    REQUIRE(heard.s_holds.size() == 1);
    REQUIRE(heard.z_holds.size() == 1);
    CHECK(std::abs(ms_between(heard.s_holds[0].offset, 3s)) <= 60.0);
    CHECK(std::abs(ms_between(heard.z_holds[0].onset, 3s)) <= 60.0);
}

TEST_CASE("a dip of up to 200 ms is bridged, a longer one ends the hold")
{
    struct Row {
        Seconds dip;
        std::size_t holds;
    };
    for (const Row& row : {Row{80ms, 1}, Row{170ms, 1}, Row{300ms, 2}, Row{600ms, 2}}) {
        CAPTURE(row.dip.count());
        std::vector<double> s = even_s(2s, 41);
        s.resize(s.size() + static_cast<std::size_t>(samples_in(row.dip, kHissRate).value));
        const std::vector<double> second = even_s(2s, 42);
        s.insert(s.end(), second.begin(), second.end());
        const auto heard = time_sibilants(samples_with(s, Dbfs{-35.0}, 4s + row.dip));
        CHECK(heard.s_holds.size() == row.holds);
    }
}

TEST_CASE("a hiss that is faded out after a second or two is suspected, one that stops is not")
{
    for (std::uint64_t k = 0; k < 50; ++k) {
        CAPTURE(k);
        Random random{1300 + k};
        const double from_s = random.uniform(0.8, 1.8);
        const double db_per_s = random.uniform(20.0, 40.0);
        std::vector<double> s = noise(NoiseKind::sibilant, 6s, kHissRate, random.next());
        for (std::size_t i = 0; i < s.size(); ++i) {
            const double since = static_cast<double>(i) / kHissRate.hz - from_s;
            if (since > 0.0) s[i] *= gain_of(Decibels{-std::min(60.0, since * db_per_s)});
        }
        HissScene faded{8s, random.next()};
        faded.room(NoiseKind::room, Dbfs{-55.0}).sound(s, 1s, Dbfs{-36.0});
        const auto heard = time_sibilants(faded.samples());
        REQUIRE(heard.s_holds.size() == 1);
        CHECK(heard.s_holds[0].fading_suspected);

        const Seconds length{random.uniform(1.0, 8.0)};
        std::vector<double> whole = noise(NoiseKind::sibilant, length, kHissRate, random.next());
        shape(whole, {30ms, Seconds{random.uniform(0.03, 0.2)}});
        const auto plain = time_sibilants(samples_with(whole, Dbfs{-36.0}, length));
        REQUIRE(plain.s_holds.size() == 1);
        CHECK_FALSE(plain.s_holds[0].fading_suspected);
    }
}

TEST_CASE("half the amplitude gives the same edges and a level 6.02 dB lower")
{
    std::vector<float> loud = samples_with(even_s(3s, 51), Dbfs{-30.0}, 3s);
    const auto before = time_sibilants(loud);
    for (float& v : loud) v *= 0.5f;
    const auto after = time_sibilants(loud);
    REQUIRE(before.s_holds.size() == 1);
    REQUIRE(after.s_holds.size() == 1);
    CHECK(before.s_holds[0].onset == after.s_holds[0].onset);
    CHECK(before.s_holds[0].offset == after.s_holds[0].offset);
    // 20 log10(2)
    CHECK((before.s_holds[0].level - after.s_holds[0].level).value ==
          doctest::Approx(6.0206).epsilon(0.001));
}

TEST_CASE("what is under way is shown within 120 ms, and no hop allocates")
{
    const std::vector<float> x = samples_with(even_s(3s, 61), Dbfs{-35.0}, 3s);
    const AnalysisConfig config{.sample_rate = kHissRate};
    FricationMeter meter{config};
    SibilantTimer timer{config};
    const AllocationGuard guard;
    std::optional<Seconds> first_shown;
    for (std::size_t i = 0; i + 480 <= x.size(); i += 480) {
        timer.push(meter.push(std::span<const float>{x}.subspan(i, 480)), Pitch::absent);
        const Seconds now{static_cast<double>(i + 480) / kHissRate.hz};
        if (timer.under_way() && !first_shown) first_shown = now;
        if (now > 2.995s && now < 3.005s) {
            REQUIRE(timer.under_way());
            CHECK(std::abs(timer.under_way()->so_far.count() - 2.0) <= 0.03);
        }
    }
    CHECK(guard.allocations() == 0);
    REQUIRE(first_shown);
    CHECK(*first_shown <= 1.12s);
    CHECK_FALSE(timer.under_way());
}
