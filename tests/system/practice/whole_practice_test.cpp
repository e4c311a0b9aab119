// One practice as a client lives it: a plan is taken in, the program is started for the first time
// on a display and a microphone that are not there, keys are pressed, a rendered voice sings, two
// questions are answered; then the report is read by somebody else's reader, and the therapist
// takes the practices in.
//
// The display is Xvfb, the microphone the monitor of a null sink, the reader pdftotext (poppler).

#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <optional>
#include <string>
#include <thread>

#include "app/files/plan_file.h"
#include "app/store/store.h"
#include "tests/support/signal_script.h"
#include "tests/system/capture/sound_server.h"
#include "tests/system/window/display.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

namespace fs = std::filesystem;

constexpr SampleRate kRate{48'000.0};
constexpr Seconds kHoldLength{4.0};
constexpr Hertz kGlideFirst{200.0};
constexpr Hertz kGlideLast{420.0};

// The shortest practice that has a hold, a rest and a glide.
Plan short_plan()
{
    Plan plan;
    plan.id = {"5e1f00000000000000000000000000a1"};
    plan.title = "Two drills";
    plan.written = Date{std::chrono::year{2026}, std::chrono::March, std::chrono::day{2}};
    plan.drills = {{DrillKind::warm_up_hold, 1}, {DrillKind::rising_glide, 1}};
    plan.cue = NoteCue::silent;
    plan.goal = Goal{.hold = Seconds{3.0}, .set_on = plan.written, .reasoning = ""};
    return plan;
}

Recording sung(const Contour& f0, Seconds length)
{
    Voice voice;
    voice.f0 = f0;
    voice.jitter_percent = 0.3;
    voice.shimmer_percent = 1.5;
    voice.hnr = Decibels{25.0};
    voice.attack = 60ms;
    const ScriptedTake take = SignalScript{kRate, 23}
                                  .silence(500ms)
                                  .voice(voice, length)
                                  .silence(500ms)
                                  .with_noise(NoiseKind::white, Dbfs{-72.0})
                                  .build();
    return {.samples = take.samples, .sample_rate = kRate};
}

void wait(Seconds length) { std::this_thread::sleep_for(length); }

bool comes_true(Seconds at_most, const std::function<bool()>& is_so)
{
    const auto begin = std::chrono::steady_clock::now();
    while (!is_so()) {
        if (std::chrono::steady_clock::now() - begin > at_most) return false;
        wait(250ms);
    }
    return true;
}

// The records as they are on disk, read beside the program that writes them.
class Records {
public:
    explicit Records(fs::path file) : file_{std::move(file)} {}

    std::optional<Practice> practice() const
    {
        if (!fs::exists(file_)) return std::nullopt;
        auto store = Store::open_to_read(file_);
        if (!store) return std::nullopt;
        const auto home = store.value().home_client();
        if (!home || !home.value()) return std::nullopt;
        const auto found = store.value().client_file(*home.value());
        if (!found || !found.value() || found.value()->practices.empty()) return std::nullopt;
        return found.value()->practices.back();
    }

    bool has_trials(std::size_t count) const
    {
        const auto now = practice();
        return now && now->trials.size() >= count;
    }

private:
    fs::path file_;
};

// A home of its own, and the program in it.
class AtHome {
public:
    AtHome()
    {
        REQUIRE(display_.is_up());
        const Outcome started = server_.start();
        REQUIRE_MESSAGE(started.has_value(), started.error().message);
        home_ = display_.folder() / "home";
        fs::create_directories(home_ / "Documents");
        setenv("HOME", home_.c_str(), 1);  // NOLINT(concurrency-mt-unsafe)
        for (const char* name : {"XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME"}) {
            setenv(name, (home_ / name).c_str(), 1);  // NOLINT(concurrency-mt-unsafe)
        }
    }

    int run(const std::string& words) const
    {
        const std::string out = (home_ / "said").string();
        return std::system(  // NOLINT(concurrency-mt-unsafe)
            (std::string{HOLDWELL_PROGRAM} + " " + words + " >" + out + " 2>&1").c_str());
    }
    std::string said() const { return text_of(home_ / "said"); }

    void open_window()
    {
        window_ = std::make_unique<Process>(
            std::vector<std::string>{HOLDWELL_PROGRAM}, home_ / "window-said",
            std::vector<std::string>{"DISPLAY=" + display_.name(), "LP_NUM_THREADS=1"});
        REQUIRE(display_.wait_for_window("Holdwell"));
        wait(1s);
    }
    void press(const std::string& keys)
    {
        display_.key(keys);
        wait(700ms);
    }
    // Sings, with pauses, until it is so.
    bool sing_until(const Recording& recording, Seconds at_most, const std::function<bool()>& is_so)
    {
        const auto begin = std::chrono::steady_clock::now();
        const Seconds length = duration_of({static_cast<std::int64_t>(recording.samples.size())},
                                           recording.sample_rate);
        while (std::chrono::steady_clock::now() - begin < at_most) {
            REQUIRE(server_.play(recording));
            if (comes_true(length + Seconds{3.5}, is_so)) return true;
        }
        return false;
    }

    const fs::path& home() const { return home_; }
    VirtualDisplay& display() { return display_; }
    Process& window() { return *window_; }

private:
    VirtualDisplay display_;
    SoundServer server_;
    fs::path home_;
    std::unique_ptr<Process> window_;
};

void take_in_the_plan(const AtHome& home)
{
    const fs::path file = home.home() / "plan.json";
    std::ofstream{file} << as_json(short_plan());
    CHECK(home.run("plan check " + file.string()) == 0);
    CHECK_MESSAGE(home.run("import " + file.string() + " --yes") == 0, home.said());
}

void check_what_was_kept(const Practice& practice)
{
    CHECK(practice.completion == Completion::complete);
    CHECK(practice.kind == PracticeKind::at_home);
    REQUIRE(practice.rating);
    CHECK(practice.rating->discomfort == 0);
    CHECK(practice.sound_check);
    REQUIRE(practice.trials.size() == 2);
    const auto* hold = std::get_if<HoldMeasures>(&practice.trials[0].measures);
    REQUIRE(hold != nullptr);
    // What was rendered, between the points 20 dB below its level (the ramps' outer parts).
    CHECK(std::abs((hold->hold_time - kHoldLength).count()) < 0.1);
    REQUIRE(hold->deviation);
    CHECK(std::abs(hold->deviation->value) < 1.0);
    const auto* glide = std::get_if<GlideMeasures>(&practice.trials[1].measures);
    REQUIRE(glide != nullptr);
    REQUIRE(glide->range());
    const Semitones rendered = semitones_between(kGlideFirst, kGlideLast);
    CHECK(std::abs(glide->range()->value - rendered.value) < 0.5);
    CHECK(glide->breaks() == 0);
}

std::string text_of_pdf(const AtHome& home, const fs::path& pdf)
{
    const std::string out = (home.home() / "report.txt").string();
    REQUIRE(std::system(("pdftotext -layout " + pdf.string() + " " + out).c_str()) == 0);
    return text_of(out);
}

}  // namespace

TEST_CASE("from the first start to the report: a plan, a practice sung, and its report read")
{
    AtHome home;
    take_in_the_plan(home);
    const Records records{home.home() / "XDG_DATA_HOME/holdwell/records.sqlite"};

    home.open_window();
    home.press("Return");  // the cautions are read
    home.press("Return");  // today: begin
    home.press("Return Return Return Return Return");  // none of the four is so: begin
    REQUIRE(comes_true(10s, [&] { return records.practice().has_value(); }));
    CHECK(records.practice()->completion == Completion::under_way);

    const Recording hold = sung(steady(frequency_of(kF4)), kHoldLength);
    CHECK(home.sing_until(hold, 70s, [&] { return records.has_trials(1); }));
    const Recording rise = sung(glide(kGlideFirst, kGlideLast, 3s), 3s);
    CHECK(home.sing_until(rise, 70s, [&] { return records.has_trials(2); }));

    wait(6s);                                                   // what was heard is read
    home.press("Right Right Right Down Right Left Down Down");  // effort, no discomfort, no words
    home.press("Return");
    REQUIRE(comes_true(10s, [&] { return records.practice()->rating.has_value(); }));
    home.display().shot("whole-practice");
    check_what_was_kept(*records.practice());

    const fs::path pdf = home.home() / "report.pdf";
    CHECK_MESSAGE(home.run("report --out " + pdf.string()) == 0, home.said());
    const std::string report = text_of_pdf(home, pdf);
    CHECK(report.find("F4") != std::string::npos);
    CHECK(report.find("does not") != std::string::npos);  // the cautions
    CHECK_MESSAGE(report.find("1 of ") != std::string::npos, report);

    // Handed back: the therapist's records on another computer.
    CHECK_MESSAGE(home.run("export practices --out " + (home.home() / "back.json").string()) == 0,
                  home.said());
    const std::string desk = " --data " + (home.home() / "desk").string();
    CHECK_MESSAGE(home.run("import " + (home.home() / "back.json").string() + " --yes" + desk) == 0,
                  home.said());
    CHECK(home.run("practice list" + desk) == 0);
    CHECK(home.said().find("complete") != std::string::npos);
}
