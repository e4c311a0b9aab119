// The therapist's own voice as the model for a drill, from her microphone to the client's
// loudspeaker: recorded in the window, heard again, handed over in a plan file, plain and sealed,
// taken in on other computers, played in the client's practice in place of the tone, and deleted.
//
// The loudspeaker is the sink whose monitor is the microphone: everything that is played is heard,
// as in a room without any damping, and recorded beside the program. What was sung, kept and played
// is compared by tests/system/practice/heard.h, which shares nothing with the program's listening.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>

#include "app/files/flac_bytes.h"
#include "app/files/plan_file.h"
#include "app/pages/pages.h"
#include "dsp/reference_tone.h"
#include "dsp/tuning.h"
#include "tests/support/signal_script.h"
#include "tests/system/capture/monitor.h"
#include "tests/system/practice/at_home.h"
#include "tests/system/practice/heard.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

namespace fs = std::filesystem;

constexpr Seconds kModelLength{2.5};
constexpr Seconds kHoldLength{4.0};
constexpr Cents kModelOff{20.0};  // so that a hold of the model would be known from hers
constexpr const char* kPhrase = "three calm words";

Hertz model_pitch() { return {frequency_of(kF4).value * std::exp2(kModelOff.value / 1200.0)}; }

Plan one_hold()
{
    Plan plan;
    plan.id = {"5e1f00000000000000000000000000b2"};
    plan.title = "One note";
    plan.written = Date{std::chrono::year{2026}, std::chrono::March, std::chrono::day{2}};
    plan.drills = {{DrillKind::warm_up_hold, 1}};
    plan.cue = NoteCue::played;
    return plan;
}

// Without any perturbation, so that its frequency is known to a fraction of a cent.
Recording sung_exactly(Hertz f0, Seconds length)
{
    Voice voice;
    voice.f0 = steady(f0);
    voice.source = Source::harmonics;
    voice.level = Dbfs{-30.0};
    voice.attack = 60ms;
    const ScriptedTake take = SignalScript{kSungRate, 29}
                                  .silence(600ms)
                                  .voice(voice, length)
                                  .silence(600ms)
                                  .with_noise(NoiseKind::white, Dbfs{-72.0})
                                  .build();
    return {.samples = take.samples, .sample_rate = kSungRate};
}

std::string output_of(const std::string& command)
{
    FILE* pipe = popen(command.c_str(), "r");
    if (pipe == nullptr) return {};
    std::string text;
    for (int c = std::fgetc(pipe); c != EOF; c = std::fgetc(pipe)) text += static_cast<char>(c);
    pclose(pipe);
    return text;
}

bool something_plays() { return !output_of("pactl list short sink-inputs 2>/dev/null").empty(); }

bool plays_and_ends()
{
    return comes_true(15s, [] { return something_plays(); }) &&
           comes_true(15s, [] { return !something_plays(); });
}

// Nothing has played for a while: the cue is over, too, if one was to come.
bool falls_quiet()
{
    int quiet = 0;
    return comes_true(20s, [&quiet] {
        quiet = something_plays() ? 0 : quiet + 1;
        return quiet == 12;
    });
}

std::span<const float> part(const std::vector<float>& samples, const Stretch& stretch)
{
    return std::span{samples}.subspan(
        static_cast<std::size_t>(stretch.begin.value),
        static_cast<std::size_t>((stretch.end - stretch.begin).value));
}

// That the stretch is the model as it was sung: its pitch and its length.
void check_is_as_sung(const std::vector<float>& samples, const Stretch& stretch)
{
    const Hertz f0 = fundamental_of(part(samples, stretch), kSungRate, model_pitch());
    CHECK(std::abs(interval_between(model_pitch(), f0).value) < 1.0);
    const Recording model = sung_exactly(model_pitch(), kModelLength);
    const Stretch truth = stretches_in(model.samples, kSungRate).front();
    const Seconds difference = duration_of(stretch.end - stretch.begin, kSungRate) -
                               duration_of(truth.end - truth.begin, kSungRate);
    CHECK(std::abs(difference.count()) < 0.03);
}

void check_is_as_loud_as_the_tone(std::span<const float> played)
{
    const auto tone = samples_of({frequency_of(kF4), Seconds{1.5}, kSungRate});
    const double decibels = 20.0 * std::log10(loudness_of(played) / loudness_of(tone));
    CHECK(std::abs(decibels) < 1.0);
}

// ---- the therapist -----------------------------------------------------------------------------

// How often Down is pressed from the first row to the one with this label.
int rows_before(const std::string& label, const ClientFile& file)
{
    auto opened = std::make_shared<ClientOpened>();
    opened->file = file;
    const auto page = plan_page(opened);
    int row = 0;
    for (const PageBlock& block : page->view().blocks) {
        const auto* line = std::get_if<RowBlock>(&block);
        if (line == nullptr) continue;
        if (line->label == label) return row;
        ++row;
    }
    FAIL("there is no row ", label);
    return 0;
}

void open_models_page(const Computer& desk)
{
    desk.press("Return");  // the cautions are read
    desk.press("t");       // the therapist's desk
    desk.press("Return");  // the first client
    desk.press("p");       // her plan
    std::string down;
    const auto file = desk.records().of("C-17");
    REQUIRE(file);
    for (int i = rows_before("Your voice as the model", *file); i > 0; --i) down += "Down ";
    desk.press(down);
    desk.press("Return");
}

// Recorded, heard again and saved with the plan.
ModelVoice record_a_model(Computer& desk, SoundServer& server)
{
    const Monitor monitor{desk.home() / "desk.f32"};
    desk.open_window();
    open_models_page(desk);
    desk.press("Return");  // record
    wait_for(Seconds{0.5});
    const Recording model = sung_exactly(model_pitch(), kModelLength);
    REQUIRE(server.play(model));
    wait_for(kModelLength + Seconds{4.0});
    desk.press("h");
    CHECK(plays_and_ends());
    desk.press("Escape");
    desk.press("s");
    CHECK(comes_true(5s, [&] { return desk.records().of("C-17")->plans.size() == 2; }));
    desk.close_window();

    const auto heard = monitor.samples();
    // Nothing here resamples: if it did not get there whole, what follows is no fault of the
    // program.
    WARN_MESSAGE(holds_whole(heard, model.samples), "what was sung did not reach the microphone");
    const auto stretches = stretches_in(heard, kSungRate);
    REQUIRE(stretches.size() >= 1);
    check_is_as_sung(heard, stretches.back());
    check_is_as_loud_as_the_tone(part(heard, stretches.back()));

    const auto file = desk.records().of("C-17");
    REQUIRE(file->plans.size() == 2);
    REQUIRE(file->plans.back().models.size() == 1);
    return file->plans.back().models.front();
}

void check_what_was_kept(const ModelVoice& model)
{
    CHECK(model.kind == DrillKind::warm_up_hold);
    CHECK(model.note == kF4);
    const auto sound = sound_of_flac(model.flac);
    REQUIRE(sound);
    const auto& samples = sound.value().samples;
    REQUIRE(sound.value().sample_rate == kSungRate);
    const auto stretches = stretches_in(samples, kSungRate);
    REQUIRE(stretches.size() == 1);
    check_is_as_sung(samples, stretches.front());
    // A little of the room, and no more, before and after.
    const Seconds before = time_of(stretches.front().begin, kSungRate);
    const SampleIndex end{static_cast<std::int64_t>(samples.size())};
    const Seconds after = duration_of(end - stretches.front().end, kSungRate);
    CHECK(before.count() == doctest::Approx(0.15).epsilon(0.05));
    CHECK(after.count() == doctest::Approx(0.25).epsilon(0.07));
}

// ---- on its way --------------------------------------------------------------------------------

void hand_over(const Computer& desk, const fs::path& stick)
{
    fs::create_directories(stick);
    std::ofstream{stick / "phrase"} << kPhrase << '\n';
    const std::string to = "export plan --client C-17 --out " + stick.string();
    CHECK_MESSAGE(desk.run(to + "/plan.json") == 0, desk.said());
    CHECK_MESSAGE(
        desk.run(to + "/plan.json.sealed --passphrase-file " + (stick / "phrase").string()) == 0,
        desk.said());
}

void take_in(const Computer& computer, const std::string& words)
{
    CHECK_MESSAGE(computer.run("import " + words) == 0, computer.said());
    CHECK(computer.said().find("1 recorded by the therapist") != std::string::npos);
    CHECK_FALSE(computer.records().of_home());  // a preview changes nothing
    CHECK_MESSAGE(computer.run("import " + words + " --yes") == 0, computer.said());
}

void check_arrived(const Computer& computer, const ModelVoice& model)
{
    const auto file = computer.records().of_home();
    REQUIRE(file);
    REQUIRE(file->plans.back().models.size() == 1);
    CHECK(file->plans.back().models.front() == model);
}

// ---- the client --------------------------------------------------------------------------------

// To the cue of the first trial, which begins as soon as a voice was heard long enough.
void begin_practice(Computer& home, SoundServer& server)
{
    home.open_window();
    home.press("Return");                              // the cautions are read
    home.press("Return");                              // today: begin
    home.press("Return Return Return Return Return");  // none of the four is so
    REQUIRE(comes_true(10s, [&] { return home.records().practice().has_value(); }));
    home.press("Return");    // stands well already
    wait_for(Seconds{3.0});  // the room
    const Recording comfortable = sung(steady(frequency_of(kF4)), Seconds{2.0});
    REQUIRE(server.play(comfortable));
    wait_for(Seconds{1.0});
}

void check_practice(const Practice& practice)
{
    REQUIRE(practice.trials.size() == 1);
    const auto* hold = std::get_if<HoldMeasures>(&practice.trials[0].measures);
    REQUIRE(hold != nullptr);
    // Hers, and not the model's 20 cents above.
    CHECK(std::abs((hold->hold_time - kHoldLength).count()) < 0.1);
    REQUIRE(hold->deviation);
    CHECK(std::abs(hold->deviation->value) < 1.0);
}

void practise_after_the_model(Computer& home, SoundServer& server)
{
    const Monitor monitor{home.home() / "home.f32"};
    begin_practice(home, server);
    // Nobody sings any more: what was played is no trial.
    REQUIRE(falls_quiet());
    wait_for(Seconds{1.0});
    CHECK_FALSE(home.records().has_trials(1));
    home.press("h");
    CHECK(plays_and_ends());
    wait_for(Seconds{1.2});
    REQUIRE(server.play(sung(steady(frequency_of(kF4)), kHoldLength)));
    CHECK(comes_true(10s, [&] { return home.records().has_trials(1); }));
    home.close_window();
    check_practice(*home.records().practice());

    const auto heard = monitor.samples();
    const auto stretches = stretches_in(heard, kSungRate);
    // A comfortable voice and the model, perhaps without a pause; the model once more; and her.
    REQUIRE(stretches.size() >= 3);
    const Stretch& model = stretches[stretches.size() - 2];
    check_is_as_sung(heard, model);
    check_is_as_loud_as_the_tone(part(heard, model));
}

// ---- and gone ----------------------------------------------------------------------------------

bool holds(const fs::path& folder, const std::vector<std::byte>& bytes)
{
    std::string all;
    for (const auto& entry : fs::directory_iterator{folder}) all += text_of(entry.path());
    const auto* begin = reinterpret_cast<const char*>(bytes.data());
    // A piece from the middle, short enough to lie on one page of the file.
    return all.find(std::string{begin + bytes.size() / 2, 64}) != std::string::npos;
}

void refuse_what_is_broken(const Computer& computer, Plan plan, const fs::path& stick)
{
    plan.models.front().flac.resize(plan.models.front().flac.size() / 2);
    const fs::path file = stick / "broken.json";
    std::ofstream{file} << as_json(plan);
    CHECK(computer.run("import " + file.string() + " --yes") == 1);
    CHECK(computer.said().find("models[0].flac_base64: The recording is broken") !=
          std::string::npos);
    CHECK(std::ranges::count(computer.said(), '\n') == 1);
}

}  // namespace

TEST_CASE("a therapist's voice: recorded, handed over, played before the client's own, and deleted")
{
    VirtualDisplay display;
    REQUIRE(display.is_up());
    SoundServer server;
    const Outcome started = server.start();
    REQUIRE_MESSAGE(started.has_value(), started.error().message);

    Computer desk{display, "desk"};
    fs::create_directories(display.folder() / "stick");
    std::ofstream{display.folder() / "stick/first.json"} << as_json(one_hold());
    REQUIRE(desk.run("client add C-17") == 0);
    REQUIRE_MESSAGE(desk.run("import " + (display.folder() / "stick/first.json").string() +
                             " --client C-17 --yes") == 0,
                    desk.said());
    const ModelVoice model = record_a_model(desk, server);
    check_what_was_kept(model);

    hand_over(desk, display.folder() / "stick");
    Computer home{display, "home"};
    take_in(home, (display.folder() / "stick/plan.json").string());
    check_arrived(home, model);
    Computer other{display, "other"};
    take_in(other, (display.folder() / "stick/plan.json.sealed").string() + " --passphrase-file " +
                       (display.folder() / "stick/phrase").string());
    check_arrived(other, model);
    refuse_what_is_broken(other, desk.records().of("C-17")->plans.back(),
                          display.folder() / "stick");

    practise_after_the_model(home, server);

    REQUIRE(holds(desk.records_folder(), model.flac));
    CHECK(desk.run("client delete C-17 --yes") == 0);
    CHECK_FALSE(holds(desk.records_folder(), model.flac));
}
