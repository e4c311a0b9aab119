// The guide on the engine's own updates: which commands it gives, which trials it takes.

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <variant>
#include <vector>

#include "app/base/settings.h"
#include "app/engine/guided_practice.h"
#include "tests/app/files/scratch_folder.h"

using namespace holdwell;

namespace {

constexpr SampleRate kRate{48'000.0};

Plan one_warm_up()
{
    Plan plan;
    plan.drills = {{DrillKind::warm_up_hold, 1}};
    return plan;
}

CaptureChanged live()
{
    CaptureChanged changed;
    changed.state = CaptureState::live;
    changed.device = "Desk microphone";
    changed.sample_rate = kRate;
    return changed;
}

void let_pass(GuidedPractice& practice, SampleIndex& at, Seconds time)
{
    const SampleIndex end = at + samples_in(time, kRate);
    while (at < end) {
        FrameHeard frame;
        frame.reading.hop_begin = at;
        practice.apply(frame);
        at = at + SampleCount{480};
    }
}

template <typename Kind>
int count(const std::vector<Command>& commands)
{
    return static_cast<int>(std::ranges::count_if(
        commands, [](const Command& c) { return std::holds_alternative<Kind>(c); }));
}

TrialFinished hold_of(SampleIndex onset, Seconds length)
{
    TrialFinished finished;
    finished.drill.kind = DrillKind::warm_up_hold;
    finished.hold.onset = onset;
    finished.hold.offset = onset + samples_in(length, kRate);
    finished.over_comfortable = Decibels{2.5};
    return finished;
}

// To the moment when the first trial is listened for.
SampleIndex settle(GuidedPractice& practice)
{
    SampleIndex at{};
    practice.apply(live());
    let_pass(practice, at, kPostureTime + 1s);
    practice.apply(
        SoundCheckFinished{.noise_floor = {-66.0}, .voice_level = {-30.0}, .snr = {36.0}});
    practice.apply(StageChanged{Stage::ready});
    return at;
}

}  // namespace

TEST_CASE("the stream's time leads from posture to the sound check and to the drill with its note")
{
    GuidedPractice practice{guide_setup_of(one_warm_up(), {})};
    SampleIndex at{};
    practice.apply(live());
    let_pass(practice, at, kPostureTime - 1s);
    CHECK(practice.take_commands().empty());
    let_pass(practice, at, Seconds{1.5});
    const auto check = practice.take_commands();
    CHECK(count<BeginSoundCheck>(check) == 1);
    practice.apply(
        SoundCheckFinished{.noise_floor = {-66.0}, .voice_level = {-30.0}, .snr = {36.0}});
    const auto begin = practice.take_commands();
    REQUIRE(begin.size() == 2);
    CHECK(std::holds_alternative<BeginDrill>(begin[0]));
    CHECK(std::holds_alternative<HearNote>(begin[1]));
    REQUIRE(practice.guide().sound_check());
    CHECK(practice.guide().sound_check()->voice == Dbfs{-30.0});
    CHECK(practice.guide().sound_check()->fingerprint == "Desk microphone, 48000 Hz");
}

TEST_CASE("the set-up of a practice is counted on from what is remembered, calibration and all")
{
    // Room and voice are both 10 dB softer than at the last check: the input level was changed.
    SoundMemory memory;
    memory.last_check = CheckedSetup{.microphone = "Desk microphone",
                                     .rate = kRate,
                                     .room = {-56.0},
                                     .voice = {-20.0},
                                     .input_level = 2};
    memory.spl = SplReference{.reading = {.meter = {74.0},
                                          .weighting = Weighting::c,
                                          .distance = {0.3},
                                          .level = {-30.0}},
                              .microphone = "Desk microphone",
                              .rate = kRate};
    GuidedPractice practice{guide_setup_of(one_warm_up(), {}),
                            {.models = {}, .keeping = ClipKeeping::off, .memory = memory}};
    settle(practice);
    REQUIRE(practice.guide().sound_check());
    CHECK(practice.guide().sound_check()->fingerprint ==
          "Desk microphone, 48000 Hz, input level 3, 74 dB C at 30 cm");
    CHECK(practice.sound_memory().last_check->voice == Dbfs{-30.0});
    CHECK(practice.sound_memory().spl == memory.spl);
}

TEST_CASE("what a sound check found comes back as it was, among everybody's settings")
{
    const test::ScratchFolder folder;
    const std::string file = folder.file("settings", "theme = dark\nspl_meter_db = 74.0\n");
    const CheckedSetup check{.microphone = "Desk microphone",
                             .rate = kRate,
                             .room = {-66.0},
                             .voice = {-30.0},
                             .input_level = 4};
    REQUIRE(remember_check(file, check));
    CHECK(remembered_sound(file).last_check == check);
    CHECK_FALSE(remembered_sound(file).spl);  // a calibration with one line alone is none
    CHECK(remembered(file, "theme") == "dark");
}

TEST_CASE("a hold becomes a trial with its measures, its loudness and, where kept, its sound")
{
    GuidedPractice practice{guide_setup_of(one_warm_up(), {}), {.keeping = ClipKeeping::on}};
    const SampleIndex at = settle(practice);
    CHECK(count<KeepClips>(practice.take_commands()) == 1);
    practice.apply(StageChanged{Stage::sounding});
    practice.apply(ClipCaptured{{std::byte{1}, std::byte{2}}});
    practice.apply(hold_of(at, Seconds{7.0}));
    const auto heard = practice.take_trials();
    REQUIRE(heard.size() == 1);
    const auto& hold = std::get<HoldMeasures>(heard[0].trial.measures);
    CHECK(hold.hold_time.count() == doctest::Approx(7.0));
    CHECK(hold.loudness == Decibels{2.5});
    CHECK(heard[0].clip.size() == 2);
    CHECK(practice.take_trials().empty());
}

TEST_CASE("time in another stream is no time that has passed")
{
    GuidedPractice practice{guide_setup_of(one_warm_up(), {})};
    practice.apply(live());
    for (int i = 0; i < 3; ++i) {  // each stream begins at 0 and jumps far
        SampleIndex at{};
        let_pass(practice, at, Seconds{1.0});
        practice.apply(live());
        FrameHeard later;
        later.reading.hop_begin = SampleIndex{} + samples_in(Seconds{3000.0}, kRate);
        practice.apply(later);
        practice.apply(live());
    }
    CHECK(practice.guide().phase() == GuidePhase::posture);
}

TEST_CASE("a therapist's voice takes the place of the tone, for the drill it was recorded for")
{
    Plan plan;
    plan.drills = {{DrillKind::warm_up_hold, 1}, {DrillKind::rising_glide, 1}};
    ModelVoice glide;
    glide.kind = DrillKind::rising_glide;
    glide.flac = {std::byte{7}};
    GuidedPractice practice{guide_setup_of(plan, {}), {.models = {glide}}};
    SampleIndex at = settle(practice);
    const auto warm_up = practice.take_commands();
    const auto none = std::ranges::find_if(
        warm_up, [](const Command& c) { return std::holds_alternative<UseModel>(c); });
    REQUIRE(none != warm_up.end());
    CHECK_FALSE(std::get<UseModel>(*none).flac);
    practice.apply(hold_of(at, Seconds{5.0}));
    practice.take_trials();
    practice.trial_stored();
    let_pass(practice, at, Seconds{16.0});
    const auto commands = practice.take_commands();
    REQUIRE(count<UseModel>(commands) == 1);
    for (const Command& command : commands) {
        if (const auto* use = std::get_if<UseModel>(&command)) {
            REQUIRE(use->flac);
            CHECK(use->flac->at(0) == std::byte{7});
        }
    }
    CHECK(count<HearNote>(commands) == 1);  // a glide is played only when there is a voice for it
}

TEST_CASE("a recording that ends ends the practice with it")
{
    GuidedPractice practice{guide_setup_of(one_warm_up(), {})};
    practice.apply(live());
    CaptureChanged ended;
    ended.state = CaptureState::recording_ended;
    practice.apply(ended);
    CHECK(practice.wants_rating());
    CHECK(practice.guide().completion() == Completion::partial);
}
