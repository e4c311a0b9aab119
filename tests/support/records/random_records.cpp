#include "tests/support/records/random_records.h"

#include <algorithm>
#include <array>

#include "tests/support/records/plan_examples.h"

namespace holdwell::test {

Id RandomRecords::id()
{
    constexpr const char* kDigits = "0123456789abcdef";
    Id id;
    for (int i = 0; i < 32; ++i) id.text += kDigits[random_.below(16)];
    return id;
}

Date RandomRecords::date()
{
    const std::chrono::sys_days first{std::chrono::year{2020} / std::chrono::January / 1};
    return Date{first + std::chrono::days{random_.below(3652)}};
}

std::string RandomRecords::text(int letters)
{
    constexpr std::array kLetters{"a", "E", "7", " ", "'", "\"", "\\", "ß", "é", "Ł", "語", "🙂"};
    std::string text;
    for (int i = 0; i < letters; ++i)
        text +=
            kLetters[static_cast<std::size_t>(random_.below(static_cast<int>(kLetters.size())))];
    return text;
}

std::vector<std::byte> RandomRecords::bytes(int count)
{
    std::vector<std::byte> bytes;
    for (int i = 0; i < count; ++i) bytes.push_back(static_cast<std::byte>(random_.below(256)));
    return bytes;
}

LabelledOnset RandomRecords::labelled_onset()
{
    LabelledOnset onset;
    onset.label = any(OnsetClass::breathy);
    onset.features.rise = Seconds{random_.uniform(0.002, 0.3)};
    onset.features.rise_cycles = maybe<double>(0.5, 40.0);
    onset.features.air_lead = Seconds{random_.uniform(0.0, 0.4)};
    onset.features.air_level = maybe<Decibels>(0.0, 30.0);
    onset.features.overshoot = Decibels{random_.uniform(-3.0, 9.0)};
    onset.features.irregular = either();
    onset.features.snr = Decibels{random_.uniform(5.0, 60.0)};
    return onset;
}

Client RandomRecords::client()
{
    Client client;
    client.id = id();
    client.code = text(between(1, 40));
    client.standing = any(Standing::archived);
    client.since = date();
    client.keeps_audio = either();
    if (either()) return client;
    client.onset_baseline.emplace();
    client.onset_baseline->labelled = date();
    for (int i = between(0, 12); i > 0; --i)
        client.onset_baseline->onsets.push_back(labelled_onset());
    return client;
}

// ---- plans -------------------------------------------------------------------------------------

Plan RandomRecords::plan()
{
    Plan plan = random_plan(random_);
    plan.id = id();
    plan.written = date();
    if (plan.goal) plan.goal->set_on = date();
    return plan;
}

// ---- practices ---------------------------------------------------------------------------------

HoldMeasures RandomRecords::hold()
{
    HoldMeasures hold;
    hold.hold_time = Seconds{random_.uniform(0.1, 40.0)};
    hold.in_band = maybe<Seconds>(0.0, 20.0);
    hold.f0_median = maybe<Hertz>(65.0, 1000.0);
    hold.deviation = maybe<Cents>(-1200.0, 1200.0);
    hold.f0_sd = maybe<Cents>(0.0, 80.0);
    hold.octaves_off = between(-2, 2);
    hold.interruptions = between(0, 4);
    hold.interrupted = Seconds{random_.uniform(0.0, 1.0)};
    hold.onset = any(OnsetClass::unsure);
    hold.rise = maybe<Seconds>(0.002, 0.3);
    hold.air_lead = maybe<Seconds>(0.0, 0.4);
    hold.ended_by = any(HoldEnd::stream_ended);
    hold.fry = Seconds{random_.uniform(0.0, 2.0)};
    hold.snr = Decibels{random_.uniform(0.0, 60.0)};
    hold.loudness = maybe<Decibels>(-20.0, 20.0);
    if (either())
        hold.quality =
            Quality{random_.uniform(0.0, 5.0), random_.uniform(0.0, 20.0),
                    Decibels{random_.uniform(0.0, 30.0)}, Decibels{random_.uniform(0.0, 25.0)}};
    hold.has_gap = random_.below(8) == 0;
    if (random_.below(8) == 0) hold.doubt = any(Doubt::overloaded);
    return hold;
}

GlideMeasures RandomRecords::glide()
{
    GlideMeasures glide;
    glide.direction = any(GlideDirection::down);
    glide.length = Seconds{random_.uniform(0.5, 10.0)};
    glide.lowest = maybe<Hertz>(65.0, 200.0);
    glide.highest = maybe<Hertz>(200.0, 1000.0);
    glide.jumps = between(0, 5);
    glide.gaps = between(0, 5);
    glide.largest_jump = maybe<Semitones>(0.0, 14.0);
    glide.fry = Seconds{random_.uniform(0.0, 2.0)};
    glide.smoothness = random_.uniform(0.0, 1.0);
    glide.has_gap = random_.below(8) == 0;
    return glide;
}

SibilantMeasures RandomRecords::sibilant()
{
    return {Seconds{random_.uniform(1.0, 40.0)}, either(), random_.below(8) == 0};
}

Measures RandomRecords::measures_for(DrillKind kind)
{
    switch (kind) {
    case DrillKind::rising_glide:
    case DrillKind::falling_glide:
        return glide();
    case DrillKind::s_hold:
    case DrillKind::z_hold:
        return sibilant();
    case DrillKind::warm_up_hold:
    case DrillKind::ladder_hold:
        break;
    }
    return hold();
}

Trial RandomRecords::trial(int number)
{
    Trial trial;
    trial.id = id();
    trial.number = number;
    trial.kind = any(DrillKind::z_hold);
    trial.measures = measures_for(trial.kind);
    if (std::holds_alternative<HoldMeasures>(trial.measures)) trial.target = Note{between(36, 84)};
    trial.repetition = between(1, 10);
    trial.goal = maybe<Seconds>(1.0, 120.0);
    trial.band = Cents{random_.uniform(10.0, 300.0)};
    trial.begun = Seconds{random_.uniform(0.0, 1800.0)};
    return trial;
}

Practice RandomRecords::practice(const Id& client, int trials)
{
    Practice practice;
    practice.id = id();
    practice.client = client;
    if (either()) practice.plan = id();
    practice.plan_revision = between(0, 9);
    practice.taper_step = between(0, 12);
    practice.kind = any(PracticeKind::entered_by_hand);
    practice.begun = {date(), {std::chrono::minutes{random_.below(1440)}}};
    practice.completion = any(Completion::stopped_for_discomfort);
    practice.trials_asked = between(0, 40);
    practice.before = {either(), either(), either(), either()};
    if (either()) practice.rating = SelfRating{between(0, 10), between(0, 10)};
    if (either())
        practice.sound_check =
            SoundCheckSummary{Dbfs{random_.uniform(-90.0, -30.0)},
                              Dbfs{random_.uniform(-50.0, -5.0)}, SampleRate{48'000.0}, text(8)};
    practice.remark = text(between(0, 60));
    for (int number = 1; number <= trials; ++number) practice.trials.push_back(trial(number));
    return practice;
}

ClientGoal RandomRecords::goal()
{
    ClientGoal made;
    made.id = id();
    made.set_on = date();
    if (either()) made.withdrawn_on = date();
    MeasurableGoal& of = made.goal;
    of.kind = either() ? DrillKind::warm_up_hold : DrillKind::ladder_hold;
    of.note = Note{between(36, 84)};
    if (either()) of.sound = "/ø/";
    of.band = Cents{random_.uniform(10.0, 300.0)};
    of.hold = Seconds{random_.uniform(1.0, 120.0)};
    of.onset = any(OnsetAsked::easy);
    of.trials = between(1, 20);
    of.met = between(1, of.trials);
    of.days = between(1, 30);
    of.cueing = any(Cueing::with_cue);
    if (either()) of.by = date();
    return made;
}

ClientFile RandomRecords::file(int plans, int practices)
{
    ClientFile file;
    file.client = client();
    for (int i = 0; i < plans; ++i) file.plans.push_back(plan());
    for (int i = 0; i < practices; ++i)
        file.practices.push_back(practice(file.client.id, between(0, 20)));
    std::ranges::stable_sort(file.practices, {}, &Practice::begun);
    const int goals = between(0, 2);
    for (int i = 0; i < goals; ++i) file.goals.push_back(goal());
    std::ranges::stable_sort(file.goals, {}, &ClientGoal::set_on);
    return file;
}

}  // namespace holdwell::test
