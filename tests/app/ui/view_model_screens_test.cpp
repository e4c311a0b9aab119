#include <doctest/doctest.h>

#include <string>
#include <variant>
#include <vector>

#include "tests/app/ui/practising.h"

using namespace holdwell;
using namespace holdwell::test;

TEST_CASE("N walks through the ladder and back to the warm-up")
{
    ViewModel vm = practising();
    std::string walked;
    for (int i = 0; i < 6; ++i) {
        vm.apply(Event{Action::next_drill});
        const PracticeView view = practice(vm);
        walked += view.note + " ";
        const auto commands = vm.take_commands();
        CHECK(count<BeginDrill>(commands) == 1);
    }
    CHECK(walked == "C4 D4 E4 F4 G4 F4 ");
    CHECK(practice(vm).drill == "Warm-up hold");
}

TEST_CASE("choices: rows by keys, notes by mouse, every value within its range")
{
    ViewModel vm = practising();
    vm.apply(Event{Action::open_choices});
    CHECK(count<PauseListening>(vm.take_commands()) == 1);
    const auto rows = [&] { return std::get<ChoicesView>(vm.view().screen); };
    vm.apply(Event{PickNote{Note{50}, DrillKind::ladder_hold}});
    CHECK(rows().rows[1].value == "D3");
    vm.apply(Event{Action::left});
    CHECK(rows().rows[1].value == "C\u266f3");
    for (int i = 0; i < 100; ++i) vm.apply(Event{StepRow{1, -1}});
    CHECK(rows().rows[1].value == "C2");
    for (int i = 0; i < 100; ++i) vm.apply(Event{StepRow{1, +1}});
    CHECK(rows().rows[1].value == "C6");
    for (int i = 0; i < 100; ++i) vm.apply(Event{StepRow{2, +1}});
    CHECK(rows().rows[2].value == "\u00b1 200 cents");
    for (int i = 0; i < 100; ++i) vm.apply(Event{StepRow{2, -1}});
    CHECK(rows().rows[2].value == "\u00b1 50 cents");
    CHECK(rows().rows[3].value == "none");
    vm.apply(Event{StepRow{3, +1}});
    CHECK(rows().rows[3].value == "10 seconds");
    for (int i = 0; i < 300; ++i) vm.apply(Event{StepRow{3, +1}});
    CHECK(rows().rows[3].value == "120 seconds");
    for (int i = 0; i < 300; ++i) vm.apply(Event{StepRow{3, -1}});
    CHECK(rows().rows[3].value == "none");
    for (int i = 0; i < 30; ++i) vm.apply(Event{StepRow{6, +1}});
    CHECK(vm.view().text_percent == 250);
    vm.apply(Event{StepRow{5, +1}});
    CHECK(vm.view().shade == ShadeWish::light);
    vm.apply(Event{PickRow{0}});
    vm.apply(Event{Action::up});
    CHECK(rows().focused == kChoices - 1);

    vm.apply(Event{Action::proceed});
    CHECK(vm.screen() == Screen::practice);
    const auto commands = vm.take_commands();
    REQUIRE(count<BeginDrill>(commands) == 1);
    const auto& drill = std::get<BeginDrill>(commands[0]).drill;
    CHECK(drill.target == Note{84});
    CHECK(drill.band == Cents{50.0});
    CHECK(!drill.goal);
}

TEST_CASE("no microphone: one sentence, the demo, and back when one comes")
{
    ViewModel vm{{.demos = {{"demo.flac"}}}, practised()};
    vm.take_commands();
    vm.apply(CaptureChanged{CaptureState::no_device, "", "", {}});
    CHECK(vm.screen() == Screen::no_microphone);
    const NoMicrophoneView view = std::get<NoMicrophoneView>(vm.view().screen);
    CHECK(view.line == "There is no microphone to listen with.");
    REQUIRE(view.offers.size() == 2);
    vm.apply(Event{Action::proceed});
    const auto commands = vm.take_commands();
    CHECK(count<PlayRecording>(commands) == 1);
    CHECK(count<HearNote>(commands) == 0);  // no tone into a recording
    CHECK(vm.screen() == Screen::practice);
    vm.apply(CaptureChanged{CaptureState::recording_ended, "", "", {}});
    vm.apply(StageChanged{Stage::ready});
    CHECK(practice(vm).line == "The demo has ended. Press Enter to hear it again.");
    vm.apply(Event{Action::proceed});
    CHECK(count<PlayRecording>(vm.take_commands()) == 1);
}

TEST_CASE("a hold that a demo ends with is told, and what to do next")
{
    ViewModel vm = practising({.demos = {{"demo.flac"}}});
    tell(vm, scripted::trial(voice(8.0), {}));
    vm.apply(CaptureChanged{CaptureState::recording_ended, "", "", {}});
    CHECK(practice(vm).line.starts_with("8 seconds."));
    CHECK(practice(vm).second.ends_with("Enter plays the demo again"));
    CHECK(practice(vm).notice.empty());
}

TEST_CASE("a demo that is not there, or is cut short, is said to be, and not to have ended")
{
    const std::string missing = "missing.wav: there is no such file";
    ViewModel vm{{.demos = {{"missing.wav"}}, .source = SoundSource::recording}, practised()};
    vm.apply(CaptureChanged{CaptureState::recording_ended, "missing.wav", missing, {}});
    CHECK(practice(vm).notice == missing);
    CHECK(practice(vm).line == "The demo could not be played whole. Press Enter to try again.");
    // What was heard before it broke off is told first.
    tell(vm, scripted::trial(voice(8.0), {}));
    CHECK(practice(vm).line.starts_with("8 seconds."));
    CHECK(practice(vm).notice == missing);
}

TEST_CASE("after a demo comes the next, each with its own drill, and after the last the first")
{
    Drill glide;
    glide.kind = DrillKind::rising_glide;
    ViewModel vm{{.demos = {{"1.flac"}, {"2.flac", glide}}, .source = SoundSource::recording},
                 practised()};
    vm.take_commands();
    const auto press_enter = [&vm] {
        vm.apply(CaptureChanged{CaptureState::recording_ended, "", "", {}});
        CHECK(practice(vm).line == "The demo has ended. Press Enter to hear the next one.");
        vm.apply(Event{Action::proceed});
        const auto commands = vm.take_commands();
        REQUIRE(count<BeginDrill>(commands) == 1);
        REQUIRE(count<PlayRecording>(commands) == 1);
        return std::pair{std::get<PlayRecording>(commands.back()).path,
                         std::get<BeginDrill>(commands.front()).drill.kind};
    };
    CHECK(press_enter() == std::pair{std::string{"2.flac"}, DrillKind::rising_glide});
    CHECK(press_enter() == std::pair{std::string{"1.flac"}, DrillKind::warm_up_hold});
}

TEST_CASE("without a demo only looking again is offered")
{
    ViewModel vm{{}, practised()};
    vm.apply(CaptureChanged{CaptureState::no_device, "", "", {}});
    CHECK(std::get<NoMicrophoneView>(vm.view().screen).offers.size() == 1);
    vm.take_commands();
    vm.apply(Event{Action::proceed});
    CHECK(count<ReopenMicrophone>(vm.take_commands()) == 1);
    vm.apply(CaptureChanged{CaptureState::live, "Desk microphone", "", {48'000.0}});
    CHECK(vm.screen() == Screen::practice);
    CHECK(count<BeginDrill>(vm.take_commands()) == 1);
}

TEST_CASE("a lost microphone and lost samples are said")
{
    ViewModel vm = practising();
    vm.apply(CaptureChanged{CaptureState::lost, "", "The microphone was unplugged.", {}});
    CHECK(practice(vm).notice == "The microphone was unplugged.");
    CHECK(practice(vm).line == "The microphone is gone. Waiting for it to come back.");
    vm.apply(CaptureChanged{CaptureState::live, "Desk microphone", "", {48'000.0}});
    CHECK(practice(vm).notice.empty());
    vm.apply(SamplesLost{{960}});
    CHECK(practice(vm).notice == "20 ms of sound was lost by the computer.");
    vm.apply(CaptureChanged{CaptureState::muted, "", "", {}});
    CHECK(practice(vm).notice.find("muted") != std::string::npos);
}

TEST_CASE("tolerance: the band moves while somebody sings, its edges are heard, and it stays")
{
    ViewModel vm = practising();
    vm.apply(Event{Action::open_tolerance});
    vm.take_commands();
    tell(vm, scripted::sounding(voice(3.0), {}, Seconds{3.0}));
    vm.apply(Event{Action::widen_band});
    CHECK(vm.take_commands().empty());  // what is sung is not cut short
    const ToleranceView view = std::get<ToleranceView>(vm.view().screen);
    CHECK(view.band == "\u00b1 110 cents");
    CHECK(view.line == "Near enough.");
    REQUIRE(view.now_cents);
    CHECK(std::abs(*view.now_cents) < 30.0);
    vm.apply(Event{Action::hear_high_edge});
    const auto commands = vm.take_commands();
    REQUIRE(count<HearTone>(commands) == 1);
    // 349.228 Hz (F4, equal temperament, ISO 16) times 2^(110/1200)
    CHECK(std::get<HearTone>(commands[0]).f0.value == doctest::Approx(372.14).epsilon(1e-4));
    // A trial that ends here is a demonstration, not practice.
    tell(vm, {TrialFinished{{}, scripted::hold_of(voice(3.0), {})}, StageChanged{Stage::finished}});
    vm.apply(Event{Action::back});
    const auto after = vm.take_commands();
    REQUIRE(count<BeginDrill>(after) == 1);
    CHECK(practice(vm).drill_aim.starts_with("first of two"));
    CHECK(vm.preferences().band == Cents{110.0});
}

TEST_CASE("the sound check asks, finds and advises")
{
    ViewModel vm = practising();
    vm.apply(Event{Action::open_sound_check});
    const auto view = [&] { return std::get<SoundCheckView>(vm.view().screen); };
    vm.apply(StageChanged{Stage::checking_room});
    CHECK(view().line == "Stay quiet for a moment.");
    vm.apply(StageChanged{Stage::checking_voice});
    CHECK(view().line == "Now sing any comfortable note.");
    vm.apply(SoundCheckFinished{Dbfs{-64.0}, Dbfs{-26.0}, Decibels{38.0}, 0, RoomVerdict::quiet});
    CHECK(view().line == "All is well.");
    CHECK(view().findings[0] == "Room quiet, at \u221264 dBFS.");
    vm.apply(SoundCheckFinished{Dbfs{-40.0}, Dbfs{-26.0}, Decibels{14.0}, 0, RoomVerdict::noisy});
    CHECK(view().line == "The room is loud beside your voice.");
    vm.apply(SoundCheckFinished{Dbfs{-64.0}, Dbfs{-3.0}, Decibels{61.0}, 40, RoomVerdict::quiet});
    CHECK(view().line == "A little too loud for the microphone.");
    CHECK(view().advice.find("automatic gain") != std::string::npos);
    vm.take_commands();
    vm.apply(Event{PickRow{1}});
    const auto commands = vm.take_commands();
    REQUIRE(count<ChooseMicrophone>(commands) == 1);
    CHECK(std::get<ChooseMicrophone>(commands[0]).name == "Built-in microphone");
    CHECK(count<BeginSoundCheck>(commands) == 1);
}

TEST_CASE("the numbers are one key away, and absent rather than zero")
{
    ViewModel vm = practising();
    tell(vm, scripted::trial(voice(9.0), {}));
    vm.apply(Event{Action::open_details});
    const WindowView view = vm.view();
    const auto& groups = std::get<DetailsView>(view.screen).groups;
    std::string all;
    for (const auto& g : groups) {
        all += g.title + "\n";
        for (const auto& f : g.figures) all += f.name + ": " + f.value + "\n";
    }
    for (const char* line :
         {"hold time: 9.00 s", "deviation: +1 cent", "f0, standard deviation: 14.2 cents",
          "over the room, median: 42.0 dB", "rise, 10 to 90 %: 62 ms", "air before the voice: 0 ms",
          "because: Full level in 62 ms, without air before it: an easy start.",
          "sample rate: 48000 Hz"}) {
        CAPTURE(line);
        CHECK(all.find(line) != std::string::npos);
    }
    CHECK(all.find("jitter") == std::string::npos);  // no quality was measured
}

TEST_CASE("two moments that look alike are one view: nothing is redrawn")
{
    ViewModel vm = practising();
    tell(vm, scripted::silence(voice(1.0), {}, Seconds{1.0}));
    const WindowView before = vm.view();
    tell(vm, scripted::silence(voice(1.0), {48'000}, Seconds{10.0}));
    CHECK(vm.view() == before);
}

TEST_CASE("escape leaves a screen, and from the practice the program")
{
    ViewModel vm = practising();
    for (const Action open : {Action::open_help, Action::open_choices, Action::open_details,
                              Action::open_tolerance, Action::open_sound_check}) {
        vm.apply(Event{open});
        CHECK(vm.screen() != Screen::practice);
        vm.apply(Event{Action::back});
        CHECK(vm.screen() == Screen::practice);
        CHECK(!vm.is_leaving());
    }
    vm.apply(Event{Action::back});
    CHECK(vm.is_leaving());
}

TEST_CASE("glides and /s/ holds have their own pictures and words")
{
    ViewModel vm = practising();
    vm.apply(Event{Action::open_choices});
    vm.apply(Event{StepRow{0, +1}});
    vm.apply(Event{StepRow{0, +1}});
    vm.apply(Event{Action::back});
    Voice v = voice(6.0);
    v.drill.kind = DrillKind::rising_glide;
    vm.apply(StageChanged{Stage::ready});
    tell(vm, scripted::glide(v, {}, Seconds{6.0}));
    const PracticeView glided = practice(vm);
    const auto& glide = std::get<GlideView>(glided.picture);
    CHECK(glide.strokes.size() == 2);  // one leap of four semitones; the short gap is bridged
    CHECK(glide.lines.front().name == "C3");
    CHECK(practice(vm).note.empty());

    Drill hiss;
    hiss.kind = DrillKind::s_hold;
    vm.apply(SibilantFinished{hiss, {{0}, {48'000 * 7}, {}}});
    vm.apply(StageChanged{Stage::finished});
    CHECK(practice(vm).line == "7 seconds.");
}
