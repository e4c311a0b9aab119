// What comes between in a practice at home: the lid is closed, the microphone's cable comes off,
// the telephone rings. The trial under way is the most that is lost, and the practice goes on.

#include <doctest/doctest.h>

#include <csignal>
#include <fstream>
#include <string>

#include "app/files/plan_file.h"
#include "tests/system/practice/at_home.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

// Glides, because their rest is short.
Plan glides()
{
    Plan plan;
    plan.id = {"5e1f00000000000000000000000000c3"};
    plan.title = "Glides";
    plan.written = Date{std::chrono::year{2026}, std::chrono::March, std::chrono::day{2}};
    plan.drills = {{DrillKind::rising_glide, 8}};
    plan.cue = NoteCue::silent;
    return plan;
}

Recording rise(Seconds length) { return sung(glide(Hertz{200.0}, Hertz{420.0}, length), length); }

// Every trial once, numbered in order, each with its range.
void check_trials(const Practice& practice, std::size_t count)
{
    REQUIRE(practice.trials.size() == count);
    for (std::size_t i = 0; i < count; ++i) {
        CAPTURE(i);
        CHECK(practice.trials[i].number == static_cast<int>(i) + 1);
        CHECK(std::holds_alternative<GlideMeasures>(practice.trials[i].measures));
    }
}

}  // namespace

TEST_CASE("a closed lid, a lost microphone and a telephone call: each costs one trial at most")
{
    VirtualDisplay display;
    REQUIRE(display.is_up());
    SoundServer server;
    const Outcome started = server.start();
    REQUIRE_MESSAGE(started.has_value(), started.error().message);
    Computer home{display, "interrupted"};
    std::ofstream{home.home() / "plan.json"} << as_json(glides());
    REQUIRE_MESSAGE(home.run("import " + (home.home() / "plan.json").string() + " --yes") == 0,
                    home.said());
    const Records records = home.records();

    home.open_window();
    home.press("Return");                              // the cautions are read
    home.press("Return");                              // today: begin
    home.press("Return Return Return Return Return");  // none of the four is so
    REQUIRE(comes_true(10s, [&] { return records.practice().has_value(); }));
    home.press("Return");  // stands well already
    CHECK(sing_until(server, rise(Seconds{2.5}), 60s, [&] { return records.has_trials(1); }));

    // The lid: the program stands still in the midst of a glide, and wakes.
    wait_for(Seconds{4.5});
    REQUIRE(server.play(rise(Seconds{5.0})));
    wait_for(Seconds{2.0});
    home.window().signal(SIGSTOP);
    wait_for(Seconds{4.0});
    home.window().signal(SIGCONT);
    CHECK(sing_until(server, rise(Seconds{2.5}), 60s, [&] { return records.has_trials(2); }));
    const std::size_t after_lid = records.practice()->trials.size();
    check_trials(*records.practice(), after_lid);
    CHECK(after_lid <= 3);  // the glide that was cut may count, and the one after it

    // The cable: the sound system goes in the midst of a glide, and comes back.
    wait_for(Seconds{4.5});
    REQUIRE(server.play(rise(Seconds{5.0})));
    wait_for(Seconds{2.0});
    server.kill();
    wait_for(Seconds{2.0});
    REQUIRE(server.start());
    wait_for(Seconds{2.5});
    CHECK(sing_until(server, rise(Seconds{2.5}), 60s,
                     [&] { return records.has_trials(after_lid + 1); }));
    wait_for(Seconds{1.0});
    const std::size_t before_call = records.practice()->trials.size();
    check_trials(*records.practice(), before_call);

    // The telephone: paused, somebody speaks, and on with it.
    wait_for(Seconds{4.5});
    home.press("space");
    REQUIRE(server.play(rise(Seconds{2.5})));
    wait_for(Seconds{5.0});
    CHECK(records.practice()->trials.size() == before_call);
    home.press("space");
    CHECK(sing_until(server, rise(Seconds{2.5}), 60s,
                     [&] { return records.has_trials(before_call + 1); }));
    const Practice whole = *records.practice();
    check_trials(whole, whole.trials.size());
    CHECK(whole.completion == Completion::under_way);  // there is more to come
}
