#include "tests/bench/store/years.h"

#include <fmt/format.h>

#include "tests/support/random.h"

namespace holdwell::bench {
namespace {

using holdwell::test::Random;

Id random_id(Random& random)
{
    return {fmt::format("{:08x}{:08x}{:08x}{:08x}", random.next(), random.next(), random.next(),
                        random.next())};
}

HoldMeasures hold(Random& random)
{
    HoldMeasures m;
    m.hold_time = Seconds{random.uniform(3.0, 25.0)};
    m.in_band = m.hold_time * random.uniform(0.3, 1.0);
    m.f0_median = Hertz{random.uniform(100.0, 400.0)};
    m.deviation = Cents{random.uniform(-150.0, 150.0)};
    m.f0_sd = Cents{random.uniform(5.0, 60.0)};
    m.interruptions = random.below(3);
    m.interrupted = Seconds{0.1 * m.interruptions};
    m.onset = static_cast<OnsetClass>(random.below(4));
    m.rise = Seconds{random.uniform(0.005, 0.2)};
    m.air_lead = Seconds{random.uniform(0.0, 0.3)};
    m.fry = Seconds{random.uniform(0.0, 0.5)};
    m.snr = Decibels{random.uniform(15.0, 50.0)};
    m.loudness = Decibels{random.uniform(-10.0, 10.0)};
    m.quality = Quality{random.uniform(0.1, 2.0), random.uniform(1.0, 8.0),
                        Decibels{random.uniform(10.0, 28.0)}, Decibels{random.uniform(5.0, 20.0)}};
    return m;
}

GlideMeasures glide(Random& random)
{
    GlideMeasures m;
    m.length = Seconds{random.uniform(2.0, 8.0)};
    m.lowest = Hertz{random.uniform(90.0, 160.0)};
    m.highest = Hertz{random.uniform(300.0, 800.0)};
    m.jumps = random.below(4);
    m.largest_jump = Semitones{random.uniform(1.0, 9.0)};
    m.smoothness = random.uniform(0.5, 1.0);
    return m;
}

// Two warm-ups, two glides each way, twelve holds of the ladder.
Trial trial(Random& random, int number)
{
    Trial made;
    made.id = random_id(random);
    made.number = number;
    made.repetition = 1 + number % 2;
    made.begun = Seconds{30.0 * number};
    if (number > 2 && number <= 6) {
        made.kind = number <= 4 ? DrillKind::rising_glide : DrillKind::falling_glide;
        made.measures = glide(random);
        return made;
    }
    made.kind = number <= 2 ? DrillKind::warm_up_hold : DrillKind::ladder_hold;
    made.target = Note{number <= 2 ? 65 : 60 + (number - 7) / 2};
    made.goal = Seconds{15.0};
    made.measures = hold(random);
    return made;
}

Practice practice(Random& random, const Additions& hers, Moment begun)
{
    Practice made;
    made.id = random_id(random);
    made.client = hers.client.id;
    made.plan = hers.plans.front().id;
    made.plan_revision = 1;
    made.begun = begun;
    made.completion = Completion::complete;
    made.trials_asked = kTrialsAPractice;
    made.rating = SelfRating{random.below(5), random.below(3)};
    made.sound_check = SoundCheckSummary{Dbfs{-60.0}, Dbfs{-25.0}, SampleRate{48'000.0},
                                         random_id(random).text.substr(0, 8)};
    for (int number = 1; number <= kTrialsAPractice; ++number)
        made.trials.push_back(trial(random, number));
    return made;
}

}  // namespace

Additions three_years_of(int client)
{
    Random random{static_cast<std::uint64_t>(client)};
    Additions hers;
    hers.client.id = random_id(random);
    hers.client.code = fmt::format("client {:04}", client);
    hers.client.since = day_after(kLastDay, std::chrono::days{1 - kDays});
    Plan plan;
    plan.id = random_id(random);
    plan.written = hers.client.since;
    plan.goal = Goal{Seconds{15.0}, GoalOrigin::by_hand, hers.client.since, ""};
    hers.plans.push_back(plan);
    for (int day = 0; day < kDays; ++day) {
        for (int hour : {8, 18}) {
            const Moment begun{day_after(hers.client.since, std::chrono::days{day}),
                               ClockTime{std::chrono::minutes{60 * hour}}};
            hers.practices.push_back(practice(random, hers, begun));
        }
    }
    return hers;
}

Trial one_more_trial(std::uint64_t seed)
{
    Random random{1'000'000 + seed};
    return trial(random, kTrialsAPractice + 1);
}

}  // namespace holdwell::bench
