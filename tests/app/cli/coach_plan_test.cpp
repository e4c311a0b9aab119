// A whole practice in the terminal, on a recording, into records in a scratch folder.

#include <doctest/doctest.h>

#include <atomic>
#include <csignal>
#include <memory>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "app/files/plan_file.h"
#include "app/office/office.h"
#include "tests/app/cli/session.h"
#include "tests/app/cli/sounding_file.h"
#include "tests/app/files/scratch_folder.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

// Everything is typed before it is asked for; then nothing more comes.
Ran practise(const std::vector<std::string>& words, std::vector<std::string> typed)
{
    std::ostringstream out;
    std::ostringstream err;
    auto next = std::make_shared<std::size_t>(0);
    const Console console{.out = out,
                          .err = err,
                          .err_is_terminal = false,
                          .typed = [typed = std::move(typed), next]() -> TypedLine {
                              if (*next >= typed.size()) return {.kind = TypedLine::Kind::ended};
                              return {.kind = TypedLine::Kind::line, .text = typed[(*next)++]};
                          }};
    const ExitStatus status = run_command_line(words, console, {});
    return {status, out.str(), err.str()};
}

// Two warm-up holds on F4 with the rest between them: 5 s, 16 s of the room, 6 s.
std::string recording_in(const ScratchFolder& folder)
{
    Recording all = note({.length = 5s, .wander = {8.0}});
    const Recording second = note({.length = 6s, .wander = {8.0}});
    const auto room = static_cast<std::size_t>(samples_in(15s, all.sample_rate).value);
    const std::vector<float> silence{all.samples.begin(), all.samples.begin() + 24'000};
    while (all.samples.size() < room + 7 * 48'000)
        all.samples.insert(all.samples.end(), silence.begin(), silence.end());
    all.samples.insert(all.samples.end(), second.samples.begin(), second.samples.end());
    for (int i = 0; i < 20; ++i)
        all.samples.insert(all.samples.end(), silence.begin(), silence.end());
    const std::string path = folder.path("practice.wav");
    REQUIRE(write_recording(path, all, Encoding::wav_24_bit));
    return path;
}

std::string one_hold_in(const ScratchFolder& folder)
{
    const std::string path = folder.path("one.wav");
    REQUIRE(write_recording(path, note({.length = 5s, .wander = {8.0}}), Encoding::wav_24_bit));
    return path;
}

std::string plan_in(const ScratchFolder& folder)
{
    Plan plan;
    plan.id = Id{std::string(32, 'a')};
    plan.title = "Two warm-ups";
    plan.drills = {{DrillKind::warm_up_hold, 2}};
    plan.goal = Goal{.hold = Seconds{5.5}};
    REQUIRE(save_plan(folder.path("plan.json"), plan));
    return folder.path("plan.json");
}

HomeLoaded records_of(const std::string& data)
{
    OfficeSettings settings = usual_settings();
    settings.data_folder = data;
    Office office{settings};
    const Answer answer = office.answer(LoadHome{});
    REQUIRE(std::holds_alternative<HomeLoaded>(answer));
    return std::get<HomeLoaded>(answer);
}

bool says(const Ran& ran, const std::string& what)
{
    return ran.out.find(what) != std::string::npos;
}

}  // namespace

TEST_CASE("a plan is practised in the terminal: asked, sung, kept, rated, and summed up")
{
    const ScratchFolder folder;
    const std::string data = folder.path("records");
    const Ran ran = practise({"coach", "--plan", plan_in(folder), "--data", data, "--file",
                              recording_in(folder), "--fast"},
                             {"no", "no", "n", "", "2", "0"});
    CAPTURE(ran.out);
    CHECK(ran.status == ExitStatus::ok);
    CHECK(ran.err.empty());
    CHECK(ran.out.starts_with("Holdwell. Two warm-ups: 2 trials.\n"));
    CHECK(says(ran, "Does your throat hurt? (yes or no)\n"));
    CHECK(says(ran, "1 of 2: Warm-up hold on F4, first of two.\n"));
    CHECK(says(ran, "2 of 2: Warm-up hold on F4, second of two.\n"));
    CHECK(says(ran, "Rest and breathe. Next: F4 in 15 s.\n"));
    CHECK(says(ran, "Goal reached."));

    const HomeLoaded home = records_of(data);
    REQUIRE(home.file.practices.size() == 1);
    const Practice& practice = home.file.practices[0];
    CHECK(practice.completion == Completion::complete);
    CHECK(practice.plan == Id{std::string(32, 'a')});
    CHECK(practice.rating == SelfRating{.effort = 2, .discomfort = 0});
    REQUIRE(practice.trials.size() == 2);
    // The lengths of the notes as they were made (session.h); the coach's promise is a tenth.
    CHECK(std::get<HoldMeasures>(practice.trials[0].measures).hold_time.count() ==
          doctest::Approx(5.0).epsilon(0.02));
    CHECK(std::get<HoldMeasures>(practice.trials[1].measures).hold_time.count() ==
          doctest::Approx(6.0).epsilon(0.02));
    CHECK(practice.trials[1].begun > practice.trials[0].begun + 15s);
    CHECK(practice.trials[0].goal == Seconds{5.5});
}

TEST_CASE("an answer that speaks against it ends it with advice, and is noted")
{
    const ScratchFolder folder;
    const std::string data = folder.path("records");
    const Ran ran = practise({"coach", "--plan", plan_in(folder), "--data", data, "--file",
                              one_hold_in(folder), "--fast"},
                             {"yes", "no", "no", "no"});
    CAPTURE(ran.out);
    CHECK(ran.status == ExitStatus::ok);
    CHECK_FALSE(says(ran, "1 of 2"));
    const HomeLoaded home = records_of(data);
    REQUIRE(home.file.practices.size() == 1);
    CHECK(home.file.practices[0].completion == Completion::not_today);
    CHECK(home.file.practices[0].before.pain);
    CHECK(home.file.practices[0].trials.empty());
}

TEST_CASE("the questions are not passed over: nothing is begun when nobody answers")
{
    const ScratchFolder folder;
    const std::string data = folder.path("records");
    const Ran ran = practise({"coach", "--plan", plan_in(folder), "--data", data, "--file",
                              one_hold_in(folder), "--fast"},
                             {"no"});
    CHECK(ran.status == ExitStatus::trouble);
    CHECK(ran.err.find("--fit") != std::string::npos);
    CHECK(records_of(data).file.practices.empty());
}

TEST_CASE("a recording that ends early leaves what was sung: the practice is partly done")
{
    const ScratchFolder folder;
    const std::string data = folder.path("records");
    const std::string path = one_hold_in(folder);
    const Ran ran = practise(
        {"coach", "--plan", plan_in(folder), "--data", data, "--fit", "--file", path, "--fast"},
        {"1", "0"});
    CAPTURE(ran.out);
    CHECK_FALSE(says(ran, "Does your throat hurt?"));
    const HomeLoaded home = records_of(data);
    REQUIRE(home.file.practices.size() == 1);
    CHECK(home.file.practices[0].completion == Completion::partial);
    CHECK(home.file.practices[0].trials.size() == 1);
}

TEST_CASE("a recording that cannot be heard is refused before a word is asked or a practice begun")
{
    const ScratchFolder folder;
    const std::string data = folder.path("records");
    const std::string missing = folder.path("missing.wav");
    const Ran ran =
        practise({"coach", "--plan", plan_in(folder), "--data", data, "--file", missing, "--fast"},
                 {"no", "no", "no", "no"});
    CHECK(ran.status == ExitStatus::trouble);
    CHECK(ran.out.empty());
    CHECK(ran.err == missing + ": there is no such file; check its name and folder\n");
    CHECK(records_of(data).file.practices.empty());
}

TEST_CASE("threads: Ctrl and C within a hold end it, and it is kept")
{
    // The hold of 5 s begins after 1 s (session.h) and is interrupted 3 s later.
    const ScratchFolder folder;
    const std::string data = folder.path("records");
    const auto may_go_on = std::make_shared<std::atomic<bool>>(false);
    std::ostringstream out;
    std::ostringstream err;
    // Asked for in each round, after what is to be listened for has been said; nothing is typed
    // before the questions at the end, to which nobody answers.
    int rounds_since_the_end = 0;
    const Console console{.out = out, .err = err, .typed = [&]() -> TypedLine {
                              if (out.str().find("1 of 2") != std::string::npos) *may_go_on = true;
                              const bool is_over = out.str().find("Held for ") != std::string::npos;
                              if (is_over) ++rounds_since_the_end;
                              return {.kind = is_over ? TypedLine::Kind::ended
                                                      : TypedLine::Kind::none_yet};
                          }};
    const ExitStatus status = run_command_line(
        {"coach", "--plan", plan_in(folder), "--data", data, "--fit", "--file",
         one_hold_in(folder)},
        console, sounding({.signal = SignalAt{SIGINT, 4s}, .may_go_on = may_go_on}));
    CAPTURE(out.str());
    CHECK(status == ExitStatus::ok);
    CHECK(out.str().find("\nHeld for 3 seconds.\n") != std::string::npos);
    CHECK(rounds_since_the_end == 1);
    const HomeLoaded home = records_of(data);
    REQUIRE(home.file.practices.size() == 1);
    CHECK(home.file.practices[0].completion == Completion::partial);
    REQUIRE(home.file.practices[0].trials.size() == 1);
    CHECK(std::get<HoldMeasures>(home.file.practices[0].trials[0].measures).hold_time.count() ==
          doctest::Approx(3.0).epsilon(0.02));
}

TEST_CASE("a plan that cannot be practised is refused with its faults, and nothing is begun")
{
    const ScratchFolder folder;
    const std::string data = folder.path("records");
    const std::string plan =
        folder.file("plan.json", R"({"format": "holdwell plan", "version": 1, "weeks": 99})");
    const Ran ran = practise(
        {"coach", "--plan", plan, "--data", data, "--fit", "--file", one_hold_in(folder), "--fast"},
        {});
    CHECK(ran.status == ExitStatus::trouble);
    CHECK(ran.err.find("weeks") != std::string::npos);

    const std::string none = folder.path("none.json");
    const Ran lost = practise(
        {"coach", "--plan", none, "--data", data, "--fit", "--file", one_hold_in(folder), "--fast"},
        {});
    CHECK(lost.err == "holdwell coach: " + none +
                          " cannot be opened: No such file or directory. Nothing was begun.\n");
}
