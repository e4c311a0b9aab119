// One practice as a client lives it: a plan is taken in, the program is started for the first time
// on a display and a microphone that are not there, keys are pressed, a rendered voice sings, two
// questions are answered; then the report is read by somebody else's reader, and the therapist
// takes the practices in.
//
// The display is Xvfb, the microphone the monitor of a null sink, the reader pdftotext (poppler).

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "app/files/plan_file.h"
#include "tests/system/practice/at_home.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

namespace fs = std::filesystem;

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

void take_in_the_plan(const Computer& home)
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

std::string text_of_pdf(const Computer& home, const fs::path& pdf)
{
    const std::string out = (home.home() / "report.txt").string();
    REQUIRE(std::system(("pdftotext -layout " + pdf.string() + " " + out).c_str()) == 0);
    return text_of(out);
}

}  // namespace

TEST_CASE("from the first start to the report: a plan, a practice sung, and its report read")
{
    VirtualDisplay display;
    REQUIRE(display.is_up());
    SoundServer server;
    const Outcome started = server.start();
    REQUIRE_MESSAGE(started.has_value(), started.error().message);
    Computer home{display, "home"};
    take_in_the_plan(home);
    const Records records = home.records();

    home.open_window();
    home.press("Return");                              // the cautions are read
    home.press("Return");                              // today: begin
    home.press("Return Return Return Return Return");  // none of the four is so: begin
    REQUIRE(comes_true(10s, [&] { return records.practice().has_value(); }));
    CHECK(records.practice()->completion == Completion::under_way);

    const Recording hold = sung(steady(frequency_of(kF4)), kHoldLength);
    CHECK(sing_until(server, hold, 70s, [&] { return records.has_trials(1); }));
    const Recording rise = sung(glide(kGlideFirst, kGlideLast, 3s), 3s);
    CHECK(sing_until(server, rise, 70s, [&] { return records.has_trials(2); }));

    wait_for(6s);                                               // what was heard is read
    home.press("Right Right Right Down Right Left Down Down");  // effort, no discomfort, no words
    home.press("Return");
    REQUIRE(comes_true(10s, [&] { return records.practice()->rating.has_value(); }));
    display.shot("whole-practice");
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
