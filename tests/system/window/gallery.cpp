// Draws every screen in typical and extreme states and writes a PNG of each: gallery FOLDER [WORD],
// WORD picking those whose name contains it. Needs a display (a virtual one will do).

#include <fmt/format.h>

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "app/ui/picture.h"
#include "app/ui/view_model.h"
#include "tests/app/ui/scripted.h"
#include "tests/support/desk/desk_pages.h"

using namespace holdwell;

namespace {

Preferences usual()
{
    Preferences p;
    p.cautions = Cautions::read;
    p.theme = Theme::light;
    p.goal = Seconds{18.0};
    return p;
}

void tell(ViewModel& vm, const std::vector<Update>& updates)
{
    for (const Update& update : updates) vm.apply(update);
}

struct Scene {
    std::string name;
    std::function<WindowView(Preferences)> view;
};

ViewModel begun(const Preferences& p)
{
    ViewModel vm{{.demos = {{"demo.wav"}}}, p};
    tell(vm, scripted::beginning());
    return vm;
}

scripted::Voice voice_of(const Preferences& p, double seconds)
{
    scripted::Voice v;
    v.drill = {.kind = DrillKind::warm_up_hold, .target = p.target, .band = p.band, .goal = p.goal};
    v.length = Seconds{seconds};
    return v;
}

WindowView ready(const Preferences& p)
{
    ViewModel vm = begun(p);
    tell(vm, scripted::silence(voice_of(p, 1.0), {}, Seconds{0.5}));
    return vm.view();
}

ViewModel with_earlier(const Preferences& p)
{
    ViewModel vm = begun(p);
    tell(vm, scripted::trial(voice_of(p, 9.0), {}));
    vm.apply(StageChanged{Stage::ready});
    tell(vm, scripted::trial(voice_of(p, 16.2), {480000}));
    vm.apply(StageChanged{Stage::ready});
    return vm;
}

WindowView sounding(const Preferences& p)
{
    ViewModel vm = with_earlier(p);
    tell(vm, scripted::sounding(voice_of(p, 12.4), {4800000}, Seconds{12.4}));
    return vm.view();
}

WindowView unrolled(const Preferences& p)
{
    ViewModel vm = with_earlier(p);
    scripted::Voice v = voice_of(p, 24.3);
    v.gaps = {Seconds{3.0}, Seconds{14.0}};
    tell(vm, scripted::sounding(v, {4800000}, Seconds{24.3}));
    return vm.view();
}

ViewModel finished_model(const Preferences& p)
{
    ViewModel vm = with_earlier(p);
    scripted::Voice v = voice_of(p, 18.4);
    v.gaps = {Seconds{9.0}};
    tell(vm, scripted::trial(v, {4800000}));
    tell(vm, scripted::silence(v, {4800000 + 883200}, Seconds{1.2}));
    return vm;
}

WindowView finished(const Preferences& p) { return finished_model(p).view(); }

WindowView high(const Preferences& p)
{
    ViewModel vm = begun(p);
    scripted::Voice v = voice_of(p, 8.0);
    v.offset_cents = 135.0;
    tell(vm, scripted::sounding(v, {}, Seconds{8.0}));
    return vm.view();
}

WindowView octave(const Preferences& p)
{
    ViewModel vm = begun(p);
    scripted::Voice v = voice_of(p, 8.0);
    v.octaves_off = 1;
    tell(vm, scripted::trial(v, {}));
    return vm.view();
}

WindowView lost(const Preferences& p)
{
    ViewModel vm = finished_model(p);
    vm.apply(SamplesLost{{4800}});
    vm.apply(CaptureChanged{CaptureState::lost,
                            "",
                            "The microphone was unplugged. What was heard so far is kept; plug it "
                            "in again and go on.",
                            {}});
    return vm.view();
}

WindowView on_screen(const Preferences& p, Action action)
{
    ViewModel vm = finished_model(p);
    vm.apply(Event{action});
    return vm.view();
}

WindowView sound_check(const Preferences& p, const SoundCheckFinished* found)
{
    ViewModel vm = begun(p);
    vm.apply(
        MicrophonesListed{{"Desk microphone",
                           "Built-in Audio Analog Stereo, the microphone of a headset whose "
                           "name goes on and on, Ausf\u00fchrung f\u00fcr gro\u00dfe R\u00e4ume",
                           "Webcam"},
                          "Desk microphone"});
    vm.apply(Event{Action::open_sound_check});
    vm.apply(StageChanged{found ? Stage::finished : Stage::checking_voice});
    tell(vm, scripted::sounding(voice_of(p, 2.0), {}, Seconds{1.0}));
    vm.apply(StageChanged{Stage::checking_voice});
    if (found) vm.apply(*found);
    return vm.view();
}

WindowView welcome(Preferences p)
{
    p.cautions = Cautions::unread;
    return ViewModel{{}, p}.view();
}

WindowView no_microphone(const Preferences& p)
{
    ViewModel vm{{.demos = {{"demo.wav"}}}, p};
    vm.apply(CaptureChanged{CaptureState::no_device, "", "", {}});
    return vm.view();
}

WindowView tolerance(const Preferences& p)
{
    ViewModel vm = begun(p);
    vm.apply(Event{Action::open_tolerance});
    tell(vm, scripted::sounding(voice_of(p, 8.0), {}, Seconds{8.0}));
    return vm.view();
}

WindowView glided(const Preferences& p, DrillKind kind)
{
    ViewModel vm = begun(p);
    vm.apply(Event{Action::open_choices});
    vm.apply(Event{PickRow{static_cast<int>(Choice::drill)}});
    for (int i = 0; i < static_cast<int>(kind); ++i) vm.apply(Event{Action::right});
    vm.apply(Event{Action::back});
    vm.apply(StageChanged{Stage::ready});
    scripted::Voice v = voice_of(p, 6.0);
    v.drill.kind = kind;
    if (kind == DrillKind::s_hold) {
        tell(vm, scripted::sounding(v, {}, Seconds{6.0}));
        return vm.view();
    }
    tell(vm, scripted::glide(v, {}, Seconds{5.5}));
    vm.apply(StageChanged{Stage::finished});
    vm.apply(StageChanged{Stage::ready});
    tell(vm, scripted::glide(v, {480000}, Seconds{6.0}));
    Glide g;
    g.onset = {480000};
    g.offset = {480000 + 288000};
    g.direction = kind == DrillKind::rising_glide ? GlideDirection::up : GlideDirection::down;
    g.lowest = Hertz{220.0};
    g.highest = Hertz{1100.0};
    g.breaks = {{SampleIndex{480000 + 144000}, BreakKind::jump, Semitones{4.0}, {}},
                {SampleIndex{480000 + 205000}, BreakKind::gap, {}, Seconds{0.15}}};
    vm.apply(GlideFinished{v.drill, g});
    vm.apply(StageChanged{Stage::finished});
    return vm.view();
}

WindowView on_page(const Preferences& p, const test::PageCase& desk)
{
    WindowOptions options;
    options.opens_on = OpensOn::page;
    WindowView view = ViewModel{options, p}.view();
    view.screen = desk.page()->view();
    return view;
}

std::vector<Scene> page_scenes()
{
    std::vector<Scene> scenes;
    for (const test::PageCase& desk : test::desk_pages()) {
        scenes.push_back(
            {"desk-" + desk.name, [desk](const Preferences& p) { return on_page(p, desk); }});
    }
    for (const test::PageCase& own : test::client_pages()) {
        scenes.push_back(
            {"client-" + own.name, [own](const Preferences& p) { return on_page(p, own); }});
    }
    return scenes;
}

std::vector<Scene> scenes()
{
    static const SoundCheckFinished good{Dbfs{-64.0}, Dbfs{-26.0}, Decibels{38.0}, 0,
                                         RoomVerdict::quiet};
    return {
        {"welcome", welcome},
        {"ready", ready},
        {"sounding", sounding},
        {"unrolled", unrolled},
        {"finished", finished},
        {"high", high},
        {"octave", octave},
        {"lost", lost},
        {"choices", [](const Preferences& p) { return on_screen(p, Action::open_choices); }},
        {"details", [](const Preferences& p) { return on_screen(p, Action::open_details); }},
        {"help", [](const Preferences& p) { return on_screen(p, Action::open_help); }},
        {"sound-check", [](const Preferences& p) { return sound_check(p, nullptr); }},
        {"sound-checked", [](const Preferences& p) { return sound_check(p, &good); }},
        {"no-microphone", no_microphone},
        {"tolerance", tolerance},
        {"rising", [](const Preferences& p) { return glided(p, DrillKind::rising_glide); }},
        {"falling", [](const Preferences& p) { return glided(p, DrillKind::falling_glide); }},
        {"s-hold", [](const Preferences& p) { return glided(p, DrillKind::s_hold); }},
    };
}

struct Look {
    std::string name;
    Theme theme;
    int text_percent;
    PictureOptions options;
};

}  // namespace

int main(int argc, char** argv)
{
    if (argc < 2) {
        fmt::print(stderr, "gallery FOLDER [WORD]\n");
        return 2;
    }
    const std::filesystem::path folder{argv[1]};
    const std::string word = argc > 2 ? argv[2] : "";
    std::filesystem::create_directories(folder);
    const std::vector<Look> looks{{"light", Theme::light, 100, {1280, 800, 1.0}},
                                  {"dark", Theme::dark, 100, {1280, 800, 1.0}},
                                  {"large", Theme::light, 250, {1280, 800, 1.0}},
                                  {"small", Theme::light, 100, {800, 600, 1.0}},
                                  {"small-large", Theme::light, 250, {800, 600, 1.0}},
                                  {"tall", Theme::light, 100, {1280, 2800, 1.0}},
                                  {"wide-fine", Theme::light, 100, {1920, 1080, 1.5}}};
    std::vector<Scene> all = scenes();
    for (Scene& scene : page_scenes()) all.push_back(std::move(scene));
    for (const Look& look : looks) {
        for (const Scene& scene : all) {
            const std::string name = scene.name + "-" + look.name;
            if (name.find(word) == std::string::npos) continue;
            Preferences p = usual();
            p.theme = look.theme;
            p.text_percent = look.text_percent;
            const auto outcome =
                save_picture(folder / (name + ".png"), scene.view(p), look.options);
            if (!outcome) {
                fmt::print(stderr, "{}\n", outcome.error().message);
                return 1;
            }
        }
    }
    return 0;
}
