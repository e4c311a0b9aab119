#include "tests/support/records/plan_examples.h"

#include <array>
#include <cmath>
#include <limits>
#include <utility>

namespace holdwell::test {
namespace {

constexpr std::array kKinds{DrillKind::warm_up_hold, DrillKind::ladder_hold,
                            DrillKind::rising_glide, DrillKind::falling_glide,
                            DrillKind::s_hold,       DrillKind::z_hold};

template <typename Value, std::size_t N>
Value one_of(Random& random, const std::array<Value, N>& values)
{
    return values[static_cast<std::size_t>(random.below(static_cast<int>(N)))];
}

int between(Random& random, int least, int most) { return least + random.below(most - least + 1); }

std::string random_text(Random& random, int least, int most)
{
    // One to four bytes each, one that JSON must escape, a combining accent.
    const std::array<std::string, 9> letters{"a",      " ",      "\"",         "\\", "\u00e9",
                                             "\u0301", "\u4e2d", "\U0001f3b5", "/"};
    std::string text;
    const int length = between(random, least, most);
    for (int i = 0; i < length; ++i) text += one_of(random, letters);
    return text;
}

Date random_date(Random& random)
{
    if (random.below(4) == 0) return {};
    return Date{std::chrono::sys_days{std::chrono::days{random.below(40'000)}}};
}

std::vector<PlannedDrill> random_drills(Random& random)
{
    std::vector<PlannedDrill> drills;
    for (int i = between(random, 1, 12); i > 0; --i)
        drills.push_back({one_of(random, kKinds), between(random, 1, 10)});
    return drills;
}

VoiceNotes random_voice(Random& random)
{
    const VoiceSet set =
        one_of(random, std::array{VoiceSet::higher, VoiceSet::lower, VoiceSet::own});
    VoiceNotes voice = notes_of(set);
    if (set != VoiceSet::own) return voice;
    voice.warm_up = Note{between(random, 36, 84)};
    voice.ladder.clear();
    int midi = between(random, 36, 60);
    for (int i = between(random, 1, 8); i > 0; --i, midi += between(random, 1, 3))
        voice.ladder.push_back(Note{midi});
    return voice;
}

Goal random_goal(Random& random)
{
    return {.hold = Seconds{random.uniform(1.0, 120.0)},
            .origin = one_of(random, std::array{GoalOrigin::s_baseline, GoalOrigin::by_hand,
                                                GoalOrigin::volume_over_flow}),
            .set_on = random_date(random),
            .reasoning = random_text(random, 0, 300)};
}

Taper random_taper(Random& random)
{
    Taper taper{
        .steps = {}, .met_on_days = between(random, 1, 30), .keep_share = random.uniform(0.5, 1.0)};
    for (int i = random.below(13); i > 0; --i)
        taper.steps.push_back({random_text(random, 1, 40), random_drills(random),
                               between(random, 1, 42), between(random, 1, 60)});
    return taper;
}

std::vector<ModelVoice> random_models(Random& random)
{
    std::vector<ModelVoice> models;
    for (const DrillKind kind : kKinds) {
        if (random.below(3) != 0) continue;
        ModelVoice model{kind, {}, flac_headings({48'000.0}, Seconds{random.uniform(0.1, 15.0)})};
        if (kind == DrillKind::warm_up_hold || kind == DrillKind::ladder_hold)
            model.note = Note{between(random, 36, 84)};
        for (int i = random.below(50); i > 0; --i)
            model.flac.push_back(static_cast<std::byte>(random.below(256)));
        models.push_back(std::move(model));
    }
    return models;
}

Id random_id(Random& random)
{
    Id id;
    for (int i = 0; i < 32; ++i) id.text += "0123456789abcdef"[random.below(16)];
    return id;
}

void choose_dose(Random& random, Plan& plan)
{
    plan.voice = random_voice(random);
    plan.drills = random_drills(random);
    plan.practices_a_day = between(random, 1, 6);
    plan.most_practices_a_day = between(random, plan.practices_a_day, 8);
    plan.weeks = between(random, 1, 26);
    plan.rest = Seconds{random.uniform(15.0, 600.0)};
}

void choose_judging(Random& random, Plan& plan)
{
    plan.band = Cents{random.uniform(10.0, 300.0)};
    plan.counts = one_of(random, std::array{HoldCounts::all_phonation, HoldCounts::in_band_only});
    plan.bridge = Seconds{random.uniform(0.1, 0.5)};
    if (random.below(2) == 0) plan.goal = random_goal(random);
    plan.cue = one_of(random, std::array{NoteCue::played, NoteCue::silent});
    plan.pitch_line = one_of(random, std::array{PitchLine::shown, PitchLine::hidden});
}

}  // namespace

std::vector<std::byte> flac_headings(SampleRate rate, Seconds length)
{
    std::vector<std::byte> bytes(42);
    const auto put = [&bytes](std::size_t at, std::uint64_t value) {
        bytes[at] = static_cast<std::byte>(value & 0xFFU);
    };
    const std::string marker{"fLaC"};
    for (std::size_t i = 0; i < 4; ++i) put(i, static_cast<unsigned char>(marker[i]));
    put(7, 34);  // length of the block
    const auto hz = static_cast<std::uint64_t>(rate.hz);
    const auto samples = static_cast<std::uint64_t>(std::floor(length.count() * rate.hz));
    // From byte 18, in bits: 20 of the rate, 3 of the channels less one, 5 of the bits less one, 36
    // of the samples.
    const std::uint64_t field = hz << 44U | 15ULL << 36U | samples;
    for (std::size_t i = 0; i < 8; ++i) put(18 + i, field >> (56U - 8U * i));
    return bytes;
}

Plan random_plan(Random& random)
{
    Plan plan;
    if (random.below(3) != 0) plan.id = random_id(random);
    plan.revision = between(random, 1, 1000);
    plan.title = random_text(random, 1, 80);
    plan.written = random_date(random);
    plan.words_for_client = random_text(random, 0, 600);
    if (random.below(2) == 0 && plan.words_for_client.size() < 500) plan.words_for_client += "\n.";
    choose_dose(random, plan);
    choose_judging(random, plan);
    plan.keeps = one_of(random, std::array{Keeps::measures_only, Keeps::audio_too});
    plan.keep_audio_days = between(random, 1, 365);
    plan.taper = random_taper(random);
    plan.taper_step = random.below(static_cast<int>(plan.taper.steps.size()) + 1);
    plan.models = random_models(random);
    return plan;
}

Plan usual_plan() { return {}; }

Plan plan_with_everything()
{
    Plan plan;
    plan.id.text = "0123456789abcdef0123456789abcdef";
    plan.voice.set = VoiceSet::own;
    plan.words_for_client = "Soft and easy.";
    plan.goal = Goal{.hold = Seconds{20.0}, .origin = {}, .set_on = {}, .reasoning = "Longest."};
    plan.taper.steps = {{"once a day", plan.drills, 7, 7}, {"ladder", plan.drills, 3, 7}};
    plan.models = {{DrillKind::warm_up_hold, kF4, flac_headings({48'000.0}, Seconds{4.0})},
                   {DrillKind::rising_glide, {}, flac_headings({48'000.0}, Seconds{15.0})}};
    return plan;
}

}  // namespace holdwell::test
