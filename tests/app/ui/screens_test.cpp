// Every screen in an ImGui context without any back end: nothing asserts, no text lies outside the
// window or upon another, and the mouse finds what the keys find.

#include <doctest/doctest.h>
#include <imgui.h>

#include <algorithm>
#include <functional>
#include <string>
#include <vector>

#include "app/engine/refusal.h"
#include "app/ui/frame.h"
#include "app/ui/view_model.h"
#include "tests/app/ui/headless.h"
#include "tests/app/ui/placed_text.h"
#include "tests/app/ui/scripted.h"

using namespace holdwell;

namespace {

struct Scene {
    std::string name;
    std::function<ViewModel(Preferences)> make;
};

ViewModel begun(const Preferences& p)
{
    ViewModel vm{{.demos = {{"demo.flac"}}}, p};
    for (const Update& u : scripted::beginning()) vm.apply(u);
    return vm;
}

ViewModel after(ViewModel vm, const std::vector<Update>& updates)
{
    for (const Update& u : updates) vm.apply(u);
    return vm;
}

scripted::Voice voice(const Preferences& p, double seconds)
{
    scripted::Voice v;
    v.drill.target = p.target;
    v.drill.goal = p.goal;
    v.length = Seconds{seconds};
    return v;
}

ViewModel finished(const Preferences& p)
{
    scripted::Voice v = voice(p, 21.4);
    v.gaps = {Seconds{4.0}, Seconds{9.0}};
    v.start = OnsetClass::breathy;
    ViewModel vm = after(begun(p), scripted::trial(voice(p, 9.0), {}));
    return after(std::move(vm), scripted::trial(v, {4'800'000}));
}

ViewModel on(ViewModel vm, Action action)
{
    vm.apply(Event{action});
    return vm;
}

const char* const kLongName = "Built-in Audio Analog Stereo, Mikrofon der Kopfh\u00f6rergarnitur, "
                              "\u03bc\u03b9\u03ba\u03c1\u03cc"
                              "\u03c6\u03c9\u03bd\u03bf, and a name that goes on and on";

ViewModel lost(const Preferences& p)
{
    ViewModel vm = finished(p);
    vm.apply(
        CaptureChanged{CaptureState::lost,
                       kLongName,
                       "The microphone was unplugged. What was heard so far is kept; plug it in "
                       "again and go on.",
                       {}});
    return vm;
}

ViewModel checked(const Preferences& p)
{
    ViewModel vm = on(begun(p), Action::open_sound_check);
    vm.apply(MicrophonesListed{std::vector<std::string>(12, kLongName), kLongName});
    vm.apply(
        SoundCheckFinished{Dbfs{-38.0}, Dbfs{-2.0}, Decibels{36.0}, 12'345, RoomVerdict::noisy});
    return vm;
}

ViewModel glided(const Preferences& p)
{
    ViewModel vm = begun(p);
    vm.apply(Event{Action::open_choices});
    for (int i = 0; i < 2; ++i) vm.apply(Event{StepRow{0, +1}});
    vm.apply(Event{Action::back});
    vm.apply(StageChanged{Stage::ready});
    scripted::Voice v = voice(p, 6.0);
    v.drill.kind = DrillKind::rising_glide;
    Glide g;
    g.offset = {288'000};
    g.lowest = Hertz{65.4};
    g.highest = Hertz{1046.5};
    for (int i = 0; i < 9; ++i) {
        g.breaks.push_back({SampleIndex{20'000 + i * 9'000}, BreakKind::jump, Semitones{5.0}, {}});
    }
    vm = after(std::move(vm), scripted::glide(v, {}, Seconds{6.0}));
    vm.apply(GlideFinished{v.drill, g});
    vm.apply(StageChanged{Stage::finished});
    return vm;
}

ViewModel detailed(const Preferences& p)
{
    ViewModel vm = begun(p);
    scripted::Voice v = voice(p, 60.0);
    for (int i = 1; i < 40; ++i) v.gaps.push_back(Seconds{1.4 * i});
    auto updates = scripted::trial(v, {});
    Hold& hold = std::get<TrialFinished>(updates[updates.size() - 2]).hold;
    hold.quality = Quality{};
    hold.octaves_off = -2;
    hold.fry = Seconds{0.4};
    hold.has_gap = true;
    hold.f0_sd.reset();
    return on(after(std::move(vm), updates), Action::open_details);
}

ViewModel starts_named(const Preferences& p)
{
    ViewModel vm = on(on(begun(p), Action::open_details), Action::open_starts);
    for (int i = 0; i < 12; ++i) {
        auto updates = scripted::trial(voice(p, 3.0), {});
        Onset& start = std::get<TrialFinished>(updates[updates.size() - 2]).hold.start;
        start.features = OnsetFeatures{.rise = Seconds{0.01 * (1 + i)}, .rise_cycles = 12.3};
        vm = after(std::move(vm), updates);
        vm.apply(Event{i < 4 ? Action::name_hard : Action::name_easy});
    }
    return vm;
}

std::vector<Scene> scenes()
{
    return {
        {"empty",
         [](const Preferences& p) {
             return ViewModel{{}, p};
         }},
        {"welcome",
         [](Preferences p) {
             p.cautions = Cautions::unread;
             return ViewModel{{}, p};
         }},
        {"ready", begun},
        {"sounding",
         [](const Preferences& p) {
             return after(begun(p), scripted::sounding(voice(p, 12.4), {}, Seconds{12.4}));
         }},
        {"very long",
         [](const Preferences& p) {
             return after(begun(p), scripted::sounding(voice(p, 119.0), {}, Seconds{119.0}));
         }},
        {"finished", finished},
        {"lost", lost},
        {"no microphone",
         [](const Preferences& p) {
             ViewModel vm = begun(p);
             vm.apply(CaptureChanged{CaptureState::no_device, "", "", {}});
             return vm;
         }},
        {"help", [](const Preferences& p) { return on(begun(p), Action::open_help); }},
        {"choices", [](const Preferences& p) { return on(begun(p), Action::open_choices); }},
        {"sound check",
         [](const Preferences& p) { return on(begun(p), Action::open_sound_check); }},
        {"sound checked", checked},
        {"details empty", [](const Preferences& p) { return on(begun(p), Action::open_details); }},
        {"details full", detailed},
        {"tolerance",
         [](const Preferences& p) {
             return after(on(begun(p), Action::open_tolerance),
                          scripted::sounding(voice(p, 8.0), {}, Seconds{8.0}));
         }},
        {"glide", glided},
        {"refused",
         [](const Preferences& p) {
             ViewModel vm = begun(p);
             const Drill drill{.kind = DrillKind::s_hold};
             vm.apply(DrillRefused{drill, refusal_of(drill, {16'000.0}).value_or("")});
             vm.apply(StageChanged{Stage::paused});
             return vm;
         }},
        {"processed",
         [](const Preferences& p) {
             ViewModel vm = finished(p);
             vm.apply(ProcessingChanged{MicrophoneProcessing::noise_suppression});
             return vm;
         }},
        {"starts named", starts_named},
        {"calibration",
         [](const Preferences& p) {
             ViewModel vm = on(on(begun(p), Action::open_details), Action::open_calibration);
             vm.apply(Event{StepRow{1, -1}});
             return vm;
         }},
    };
}

Preferences practised()
{
    Preferences p;
    p.cautions = Cautions::read;
    p.goal = Seconds{18.0};
    p.target = Note{61};  // C sharp: the widest name
    return p;
}

}  // namespace

using test::faults_in;
using test::Headless;

TEST_CASE("no text is cut off by the window or lies upon another, at any size")
{
    struct Size {
        float width;
        float height;
        double scale;
    };
    for (const Size& size : {Size{800, 600, 1.0}, Size{1280, 800, 1.0}, Size{1920, 1080, 1.0},
                             Size{2560, 1600, 2.0}}) {
        for (const int percent : {100, 150, 200, 250}) {
            Headless headless{size.width, size.height, percent, size.scale};
            for (const Scene& scene : scenes()) {
                Preferences p = practised();
                p.text_percent = percent;
                WindowView view = scene.make(p).view();
                int last_page = 0;
                for (view.page = 0; view.page <= last_page && view.page < 40; ++view.page) {
                    const FrameOutput output = headless.draw(view);
                    last_page = output.last_page;
                    CAPTURE(scene.name);
                    CAPTURE(size.width);
                    CAPTURE(percent);
                    CAPTURE(view.page);
                    CHECK(!output.placed.empty());
                    for (const std::string& fault : faults_in(output, size.width, size.height)) {
                        FAIL_CHECK(fault);
                    }
                }
            }
        }
    }
}

TEST_CASE("the line of words and the stopwatch are there at every size")
{
    for (const int percent : {100, 250}) {
        Headless headless{800, 600, percent};
        Preferences p = practised();
        p.text_percent = percent;
        const ViewModel vm = after(begun(p), scripted::sounding(voice(p, 12.4), {}, Seconds{12.4}));
        std::string all;
        for (const PlacedText& t : headless.draw(vm.view()).placed) all += t.text + " ";
        CHECK(all.find("12.4") != std::string::npos);
        CHECK(all.find("Near enough.") != std::string::npos);
        CHECK(all.find("work.") != std::string::npos);
    }
}

TEST_CASE("every page of the cautions can be read at 250 %")
{
    Headless headless{800, 600, 250};
    Preferences p;
    p.text_percent = 250;
    WindowView view = ViewModel{{}, p}.view();
    std::string all;
    int last_page = 0;
    for (view.page = 0; view.page <= last_page; ++view.page) {
        const FrameOutput output = headless.draw(view);
        last_page = output.last_page;
        for (const PlacedText& t : output.placed) all += t.text + " ";
    }
    for (const char* said : {"See a physician", "Stop", "Do not practise", "right for you."}) {
        CAPTURE(said);
        CHECK(all.find(said) != std::string::npos);
    }
}

TEST_CASE("what has a key can be clicked as well")
{
    Headless headless{1280, 800, 100};
    const ViewModel vm = begun(practised());
    struct Row {
        const char* text;
        Action action;
    };
    for (const Row& row : {Row{"pause", Action::pause_or_resume}, Row{"again", Action::proceed},
                           Row{"choose", Action::open_choices}, Row{"help", Action::open_help},
                           Row{"leave", Action::back}, Row{"hear it", Action::hear}}) {
        const auto events = headless.click(vm.view(), row.text);
        REQUIRE_MESSAGE(events.size() == 1, row.text);
        CHECK(events[0] == Event{row.action});
    }
}

TEST_CASE("notes and rows of the choices are clicked")
{
    Headless headless{1280, 800, 100};
    ViewModel vm = on(begun(practised()), Action::open_choices);
    auto events = headless.click(vm.view(), "D3");
    REQUIRE(events.size() == 1);
    CHECK(events[0] == Event{PickNote{Note{50}, DrillKind::ladder_hold}});
    events = headless.click(vm.view(), "Goal");
    REQUIRE(events.size() == 1);
    CHECK(events[0] == Event{PickRow{static_cast<int>(Choice::goal)}});
}

TEST_CASE("the ink of a hold of a minute is drawn, not only its end")
{
    Headless headless{1280, 800, 100};
    const Preferences p = practised();
    const ViewModel vm = after(begun(p), scripted::sounding(voice(p, 60.0), {}, Seconds{60.0}));
    headless.draw(vm.view());
    CHECK(ImGui::GetDrawData()->TotalVtxCount > 2000);
}
