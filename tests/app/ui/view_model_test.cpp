#include <doctest/doctest.h>

#include <string>
#include <variant>
#include <vector>

#include "tests/app/ui/practising.h"

using namespace holdwell;
using namespace holdwell::test;

TEST_CASE("the first start shows the cautions, then the sound check, then the practice")
{
    ViewModel vm{{}, {}};
    CHECK(vm.screen() == Screen::welcome);
    CHECK(vm.take_commands().empty());  // nothing listens before they are read
    const WindowView welcome = vm.view();
    CHECK(std::get<TextView>(welcome.screen).title == "Before you begin");

    vm.apply(Event{Action::proceed});
    CHECK(vm.preferences().cautions == Cautions::read);
    CHECK(vm.screen() == Screen::sound_check);
    CHECK(count<BeginSoundCheck>(vm.take_commands()) == 1);

    vm.apply(Event{Action::proceed});
    CHECK(vm.screen() == Screen::practice);
    const auto commands = vm.take_commands();
    CHECK(count<BeginDrill>(commands) == 1);
    CHECK(count<HearNote>(commands) == 1);
}

TEST_CASE("the cautions say what they must")
{
    ViewModel vm{{}, {}};
    std::string all;
    const WindowView view = vm.view();
    for (const auto& s : std::get<TextView>(view.screen).sections) {
        all += s.heading + " " + s.body + "\n";
    }
    for (const char* said : {"physician first", "hurts", "hoarser", "dizzy",
                             "not examine or diagnose", "therapist decides"}) {
        CAPTURE(said);
        CHECK(all.find(said) != std::string::npos);
    }
}

TEST_CASE("each stage has its line")
{
    ViewModel vm = practising();
    struct Row {
        Stage stage;
        const char* line;
    };
    for (const Row& row : {Row{Stage::ready, "Breathe in, then sing F4 softly."},
                           Row{Stage::paused, "Paused. Press Space to go on."},
                           Row{Stage::playing, "Listen: this is F4."},
                           Row{Stage::settling, "Now breathe in\u2026"}}) {
        vm.apply(StageChanged{row.stage});
        CHECK(practice(vm).line == row.line);
        CHECK(practice(vm).stopwatch == "0.0");
    }
}

TEST_CASE("a note that does not die down is said to sound still, until it is quiet")
{
    ViewModel vm = practising();
    const SampleIndex begin{480'000};
    tell(vm, scripted::silence(voice(1.0), begin, 1s));
    vm.apply(StageChanged{Stage::settling});
    tell(vm, scripted::silence(voice(1.0), begin + SampleCount{48'000}, 2s));
    CHECK(practice(vm).line == "Now breathe in\u2026");
    tell(vm, scripted::silence(voice(1.0), begin + SampleCount{144'000}, 2s));
    CHECK(practice(vm).line == "Something still sounds. Begin when it is quiet.");
    vm.apply(StageChanged{Stage::ready});
    CHECK(practice(vm).line == "Breathe in, then sing F4 softly.");
    // The next note has its own time.
    vm.apply(StageChanged{Stage::settling});
    CHECK(practice(vm).line == "Now breathe in\u2026");
}

TEST_CASE("while a hold sounds the stopwatch runs and the ink is laid down")
{
    ViewModel vm = practising();
    tell(vm, scripted::sounding(voice(12.4), {}, Seconds{12.4}));
    const PracticeView view = practice(vm);
    CHECK(view.stopwatch == "12.4");
    CHECK(view.line == "Near enough. Let the air do the work.");
    CHECK(view.second == "easy start");
    const RibbonView r = ribbon(vm);
    REQUIRE(r.ink.size() == 1);
    CHECK(r.ink[0].front().at_s < 0.02);
    CHECK(r.ink[0].back().at_s == doctest::Approx(12.4).epsilon(0.005));
    REQUIRE(r.tip);
    CHECK(r.tip->breath == doctest::Approx(0.7));  // (-24 + 60) / 50, in twentieths
}

TEST_CASE("hops before the worker knew of the hold are drawn as well")
{
    ViewModel vm = practising();
    Voice v = voice(1.0);
    auto updates = scripted::sounding(v, {48'000}, Seconds{1.0});
    // The first 200 ms were heard before they were called a hold.
    for (std::size_t i = 1; i <= 20; ++i) std::get<FrameHeard>(updates[i]).under_way.reset();
    tell(vm, updates);
    CHECK(ribbon(vm).ink.front().front().at_s < 0.02);
}

TEST_CASE("high and low are said after a moment, not at once, and do not flicker")
{
    ViewModel vm = practising();
    Voice v = voice(4.0);
    v.offset_cents = 135.0;
    const auto updates = scripted::sounding(v, {}, v.length);
    int changes = 0;
    std::string last;
    for (const Update& u : updates) {
        vm.apply(u);
        const std::string line = practice(vm).line;
        if (!last.empty() && line != last) ++changes;
        last = line;
    }
    CHECK(last == "A little high. Let it sink.");
    CHECK(changes <= 3);
}

TEST_CASE("a finished trial is told, counted and rested after")
{
    ViewModel vm = practising({.rest = Seconds{6.0}});
    tell(vm, scripted::trial(voice(9.0), {}));
    CHECK(practice(vm).stopwatch == "9.0");
    CHECK(practice(vm).line == "9 seconds. Near enough all the way.");
    CHECK(practice(vm).drill_aim.starts_with("second of two"));
    CHECK(practice(vm).second.find("listening again in 6 s") != std::string::npos);

    const SampleIndex end{9 * 48'000};
    tell(vm, scripted::silence(voice(1.0), end, Seconds{5.9}));
    CHECK(count<ArmTrial>(vm.take_commands()) == 0);
    tell(vm, scripted::silence(voice(1.0), end + SampleCount{288'000}, Seconds{0.2}));
    CHECK(count<ArmTrial>(vm.take_commands()) == 1);
    vm.apply(StageChanged{Stage::ready});
    CHECK(practice(vm).line == "Breathe in, then sing F4 softly.");
    CHECK(practice(vm).stopwatch == "0.0");
    CHECK(ribbon(vm).ink.empty());
    CHECK(ribbon(vm).notch_s == doctest::Approx(9.0));
}

TEST_CASE("a pause ends the rest, and nothing is armed by itself")
{
    ViewModel vm = practising({.rest = Seconds{6.0}});
    tell(vm, scripted::trial(voice(9.0), {}));
    vm.apply(Event{Action::pause_or_resume});
    CHECK(count<PauseListening>(vm.take_commands()) == 1);
    vm.apply(StageChanged{Stage::paused});
    tell(vm, scripted::silence(voice(1.0), {9 * 48'000}, Seconds{20.0}));
    CHECK(vm.take_commands().empty());
    vm.apply(Event{Action::pause_or_resume});
    CHECK(count<ArmTrial>(vm.take_commands()) == 1);
}

TEST_CASE("longest yet is for the same note, more than a tenth, and without lost samples")
{
    ViewModel vm = practising();
    tell(vm, scripted::trial(voice(9.0), {}));
    tell(vm, scripted::trial(voice(9.04), {4'800'000}));
    CHECK(practice(vm).line.find("Longest") == std::string::npos);
    tell(vm, scripted::trial(voice(10.0), {9'600'000}));
    CHECK(practice(vm).line.ends_with("Longest yet."));

    auto gapped = scripted::trial(voice(30.0), {19'200'000});
    std::get<TrialFinished>(gapped[gapped.size() - 2]).hold.has_gap = true;
    tell(vm, gapped);
    CHECK(practice(vm).line.find("Longest") == std::string::npos);
    CHECK(ribbon(vm).notch_s == doctest::Approx(10.0));

    vm.apply(Event{Action::next_drill});
    CHECK(!ribbon(vm).notch_s);
}

TEST_CASE("the ribbon is as long as the goal, and unrolls beyond it")
{
    Preferences p = practised();
    p.goal = Seconds{18.0};
    ViewModel vm = practising({}, p);
    CHECK(ribbon(vm).length_s == doctest::Approx(18.0));
    CHECK(ribbon(vm).shore_s == doctest::Approx(18.0));
    CHECK(ribbon(vm).shore_name == "18 s");
    tell(vm, scripted::sounding(voice(24.3), {}, Seconds{24.3}));
    CHECK(ribbon(vm).shore_s == doctest::Approx(18.0));
    CHECK(ribbon(vm).length_s > 24.3);
    CHECK(practice(vm).line == "Past the goal. Stop whenever you like.");
}

TEST_CASE("interruptions are gaps in the ink and marks when it has ended")
{
    ViewModel vm = practising();
    Voice v = voice(8.0);
    v.gaps = {Seconds{3.0}, Seconds{5.0}};
    tell(vm, scripted::trial(v, {}));
    const RibbonView r = ribbon(vm);
    CHECK(r.ink.size() == 3);
    REQUIRE(r.gaps_s.size() == 2);
    CHECK(r.gaps_s[0] == doctest::Approx(3.06));
    CHECK(practice(vm).second.find("2 short gaps") != std::string::npos);
}

TEST_CASE("the right note in another octave lies on the line and is said")
{
    ViewModel vm = practising();
    Voice v = voice(5.0);
    v.octaves_off = 1;
    tell(vm, scripted::sounding(v, {}, v.length));
    CHECK(practice(vm).line == "Right note, one octave up. Go on.");
    CHECK(std::abs(ribbon(vm).ink.back().back().height) < 0.3);
}

TEST_CASE("a hidden pitch line shows the time alone until the hold has ended")
{
    Preferences p = practised();
    p.pitch_line = PitchLine::hidden;
    ViewModel vm = practising({}, p);
    Voice v = voice(5.0);
    v.offset_cents = 150.0;
    tell(vm, scripted::sounding(v, {}, v.length));
    CHECK(ribbon(vm).ink.empty());
    CHECK(ribbon(vm).filled_s == doctest::Approx(5.0));
    CHECK(practice(vm).line == "Soft and easy. Let the air do the work.");
    vm.apply(TrialFinished{v.drill, scripted::hold_of(v, {})});
    vm.apply(StageChanged{Stage::finished});
    CHECK(!ribbon(vm).ink.empty());
    CHECK(!ribbon(vm).filled_s);
}

TEST_CASE("what was too short is said kindly")
{
    ViewModel vm = practising();
    vm.apply(TrialDiscarded{Seconds{0.6}});
    vm.apply(StageChanged{Stage::ready});
    CHECK(practice(vm).second == "That was short (0.6 seconds). Take your time.");
}
