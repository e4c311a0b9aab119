// A plan's practice on the window: what it asks of the records and the worker, what it shows.

#include <doctest/doctest.h>

#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "tests/app/ui/practising.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

// A page that wishes what it is made with as soon as Enter is pressed.
template <typename Wish>
class Wishing final : public Page {
public:
    explicit Wishing(Wish made) : wish_{std::move(made)} {}
    PageView view() const override
    {
        PageView shown;
        shown.title = "A page";
        return shown;
    }
    void act(const PageEvent&) override { wish(wish_); }
    void hear(const Answer&) override {}

private:
    Wish wish_;
};

Plan two_warm_ups()
{
    Plan plan;
    plan.id = Id{"plan"};
    plan.revision = 3;
    plan.drills = {{DrillKind::warm_up_hold, 2}};
    plan.rest = Seconds{15.0};
    return plan;
}

// The window with records that answer at once, as the office does.
class Desk {
public:
    template <typename Wish>
    explicit Desk(const Wish& wish) : vm{{.drills = {}, .opens_on = OpensOn::page}, practised()}
    {
        vm.open_page(std::make_unique<Wishing<Wish>>(wish));
        for (const Update& u : scripted::beginning()) vm.apply(u);
        vm.apply(Event{PressKey{.key = PressKey::Key::proceed}});
        answer();
    }

    void answer()
    {
        bool any = true;
        while (any) {
            any = false;
            for (Asked& one : vm.take_requests()) {
                any = true;
                asked.push_back(one.request);
                reply(one.request);
            }
        }
        for (Command& command : vm.take_commands()) commands.push_back(std::move(command));
    }
    void tell(const std::vector<Update>& updates)
    {
        for (const Update& u : updates) vm.apply(u);
        answer();
    }
    void press(Action action)
    {
        vm.apply(Event{action});
        answer();
    }
    // To the first trial: the posture passed over, the check answered.
    void settle()
    {
        press(Action::proceed);
        tell({SoundCheckFinished{.noise_floor = {-66.0}, .voice_level = {-24.0}, .snr = {42.0}}});
        tell({StageChanged{Stage::ready}});
    }
    void sing(Seconds length)
    {
        Voice v = voice(length.count());
        v.drill.goal.reset();
        tell(scripted::trial(v, at));
        at = at + samples_in(length + 1s, scripted::kRate);
    }
    void rest(Seconds length)
    {
        tell(scripted::silence(voice(1.0), at, length));
        at = at + samples_in(length, scripted::kRate);
    }
    template <typename Kind>
    std::vector<Kind> all_asked() const
    {
        std::vector<Kind> found;
        for (const Request& r : asked) {
            if (const auto* kind = std::get_if<Kind>(&r)) found.push_back(*kind);
        }
        return found;
    }
    PageView page() const { return std::get<PageView>(vm.view().screen); }

    ViewModel vm;
    std::vector<Request> asked;
    std::vector<Command> commands;
    bool keeps{true};  // trials are answered
    SampleIndex at{48'000};

private:
    void reply(const Request& request)
    {
        if (const auto* begin = std::get_if<BeginPractice>(&request)) {
            Practice practice = begin->practice;
            practice.id = Id{"practice"};
            vm.apply(Answer{PracticeBegun{practice}});
        } else if (const auto* keep = std::get_if<KeepTrial>(&request); keep != nullptr && keeps) {
            vm.apply(Answer{TrialKept{Id{"t" + std::to_string(keep->trial.number)}, ""}});
        } else if (const auto* close = std::get_if<ClosePractice>(&request)) {
            vm.apply(Answer{PracticeClosed{close->practice, ""}});
        }
    }
};

StartPractice start_of(const Plan& plan)
{
    StartPractice start;
    start.client.id = Id{"client"};
    start.plan = plan;
    return start;
}

}  // namespace

TEST_CASE("a practice is begun in the records before it is begun on the screen")
{
    Desk desk{start_of(two_warm_ups())};
    const auto begun = desk.all_asked<BeginPractice>();
    REQUIRE(begun.size() == 1);
    CHECK(begun[0].practice.client == Id{"client"});
    CHECK(begun[0].practice.plan == Id{"plan"});
    CHECK(begun[0].practice.plan_revision == 3);
    CHECK(begun[0].practice.trials_asked == 2);
    CHECK(desk.vm.screen() == Screen::practice);
    const PracticeView view = practice(desk.vm);
    CHECK(view.drill == "Warm-up hold  \u00b7  1 of 2");
    CHECK(view.line == "Sit or stand tall, shoulders loose. Breathe in low and slow.");
    CHECK(view.keys.front().key == "Space");
    CHECK(view.keys.back().does == "stop early");
    CHECK(count<BeginDrill>(desk.commands) == 0);
}

TEST_CASE("each trial is kept, and the next drill begins only when it is")
{
    Desk desk{start_of(two_warm_ups())};
    desk.settle();
    CHECK(count<BeginDrill>(desk.commands) == 1);
    CHECK(count<HearNote>(desk.commands) == 1);
    desk.keeps = false;
    desk.sing(Seconds{12.0});
    const auto kept = desk.all_asked<KeepTrial>();
    REQUIRE(kept.size() == 1);
    CHECK(kept[0].practice == Id{"practice"});
    CHECK(kept[0].trial.number == 1);
    CHECK(std::get<HoldMeasures>(kept[0].trial.measures).hold_time.count() ==
          doctest::Approx(12.0));
    CHECK(practice(desk.vm).line.find("12 seconds.") == 0);  // stays to be read
    desk.rest(Seconds{20.0});
    CHECK(count<BeginDrill>(desk.commands) == 1);
    CHECK(practice(desk.vm).second.find("Keeping what you did") != std::string::npos);
    desk.vm.apply(Answer{TrialKept{Id{"t1"}, "Kept in memory for now: the disk is full."}});
    desk.rest(Seconds{0.1});
    CHECK(count<BeginDrill>(desk.commands) == 2);
    CHECK(practice(desk.vm).notice == "Kept in memory for now: the disk is full.");
    CHECK(practice(desk.vm).drill == "Warm-up hold  \u00b7  2 of 2");
}

TEST_CASE("after the last trial come the questions, then what it came to")
{
    Desk desk{start_of(two_warm_ups())};
    desk.settle();
    desk.sing(Seconds{12.0});
    desk.rest(Seconds{16.0});
    desk.tell({StageChanged{Stage::ready}});
    desk.sing(Seconds{13.0});
    desk.rest(Seconds{6.0});
    REQUIRE(desk.vm.screen() == Screen::page);
    CHECK(desk.page().title == "How was it?");
    // Effort 2, discomfort 0, no remark, done.
    using Key = PressKey::Key;
    for (const Key key : {Key::right, Key::right, Key::right, Key::down, Key::right, Key::down,
                          Key::down, Key::proceed}) {
        desk.vm.apply(Event{PressKey{.key = key}});
    }
    desk.answer();
    const auto closed = desk.all_asked<ClosePractice>();
    REQUIRE(closed.size() == 1);
    CHECK(closed[0].practice.completion == Completion::complete);
    CHECK(closed[0].practice.rating == SelfRating{.effort = 2, .discomfort = 0});
    REQUIRE(closed[0].practice.sound_check);
    CHECK(closed[0].practice.sound_check->room == Dbfs{-66.0});
    CHECK(closed[0].practice.trials.size() == 2);
    CHECK(desk.page().title == "Well practised");
    desk.vm.apply(Event{PressKey{.key = Key::back}});
    CHECK(desk.page().title == "A page");
}

TEST_CASE("Escape asks before it stops, and D says that something hurts")
{
    Desk desk{start_of(two_warm_ups())};
    desk.settle();
    desk.sing(Seconds{8.0});
    desk.press(Action::back);
    CHECK(practice(desk.vm).line == "Stop here for today?");
    CHECK_FALSE(desk.vm.is_leaving());
    desk.press(Action::open_details);
    REQUIRE(desk.vm.screen() == Screen::page);
    CHECK(desk.page().title == "How was it?");
    // Kept before the questions are answered, and again with what was answered.
    const auto at_once = desk.all_asked<ClosePractice>();
    REQUIRE(at_once.size() == 1);
    CHECK(at_once[0].practice.completion == Completion::stopped_for_discomfort);
    desk.vm.apply(Event{PressKey{.key = PressKey::Key::back}});
    desk.answer();
    const auto closed = desk.all_asked<ClosePractice>();
    REQUIRE(!closed.empty());
    CHECK(closed.back().practice.completion == Completion::stopped_for_discomfort);
    CHECK_FALSE(closed.back().practice.rating);
}

TEST_CASE("what was sung before an interruption is not asked for again")
{
    StartPractice start = start_of(two_warm_ups());
    Practice already;
    already.id = Id{"this morning"};
    Trial first;
    first.number = 1;
    first.kind = DrillKind::warm_up_hold;
    first.target = kF4;
    first.measures = HoldMeasures{};
    already.trials.push_back(first);
    start.already = already;
    Desk desk{start};
    CHECK(desk.all_asked<BeginPractice>().empty());
    CHECK(practice(desk.vm).drill == "Warm-up hold  \u00b7  2 of 2");
    desk.settle();
    desk.sing(Seconds{8.0});
    const auto kept = desk.all_asked<KeepTrial>();
    REQUIRE(kept.size() == 1);
    CHECK(kept[0].practice == Id{"this morning"});
    CHECK(kept[0].trial.number == 2);
}

TEST_CASE("a practice that cannot be recorded is practised all the same, and it is said")
{
    Desk desk{start_of(two_warm_ups())};
    ViewModel vm{{.drills = {}, .opens_on = OpensOn::page}, practised()};
    vm.open_page(std::make_unique<Wishing<StartPractice>>(start_of(two_warm_ups())));
    for (const Update& u : scripted::beginning()) vm.apply(u);
    vm.apply(Event{PressKey{.key = PressKey::Key::proceed}});
    vm.apply(Answer{Refused{.sentence = "The records cannot be written."}});
    CHECK(vm.screen() == Screen::practice);
    CHECK(practice(vm).notice == "The records cannot be written.");
}

TEST_CASE("the baseline is timed in session and goes back to the therapist's page")
{
    StartBaseline baseline;
    baseline.client.id = Id{"client"};
    Desk desk{baseline};
    const auto begun = desk.all_asked<BeginPractice>();
    REQUIRE(begun.size() == 1);
    CHECK(begun[0].practice.kind == PracticeKind::in_session);
    CHECK(begun[0].practice.trials_asked == 3);
    desk.settle();
    for (int i = 0; i < 3; ++i) {
        Drill s;
        s.kind = DrillKind::s_hold;
        Sibilant heard;
        heard.onset = desk.at;
        heard.offset = desk.at + samples_in(Seconds{14.0 + i}, scripted::kRate);
        desk.tell({StageChanged{Stage::sounding}, SibilantFinished{s, heard},
                   StageChanged{Stage::finished}});
        desk.rest(Seconds{16.0});
        desk.tell({StageChanged{Stage::ready}});
    }
    CHECK(desk.vm.screen() == Screen::page);
    CHECK(desk.page().title == "A page");
    const auto closed = desk.all_asked<ClosePractice>();
    REQUIRE(closed.size() == 1);
    CHECK(closed[0].practice.completion == Completion::complete);
    CHECK(closed[0].practice.trials.size() == 3);
}

TEST_CASE("the plan decides during its practice: neither choices nor another check can be opened")
{
    Desk desk{start_of(two_warm_ups())};
    desk.settle();
    for (const Action action : {Action::open_choices, Action::open_tolerance,
                                Action::open_sound_check, Action::check_again}) {
        desk.press(action);
        CHECK(desk.vm.screen() == Screen::practice);
    }
    desk.press(Action::open_help);  // the help can, and waits
    CHECK(desk.vm.screen() == Screen::help);
    desk.press(Action::back);
    CHECK(practice(desk.vm).line == "Paused. Take your time.");
}

TEST_CASE("longest yet is said of all practices, not of today's alone")
{
    Desk desk{start_of(two_warm_ups())};
    ClientOpened opened;
    opened.file.client.id = Id{"client"};
    Practice earlier;
    Trial trial;
    trial.target = kF4;
    HoldMeasures hold;
    hold.hold_time = Seconds{16.0};
    trial.measures = hold;
    earlier.trials.push_back(trial);
    opened.file.practices.push_back(earlier);
    desk.vm.apply(Answer{opened});
    desk.settle();
    desk.sing(Seconds{15.0});
    CHECK(practice(desk.vm).line.find("Longest yet") == std::string::npos);
    desk.rest(Seconds{16.0});
    desk.tell({StageChanged{Stage::ready}});
    desk.sing(Seconds{17.0});
    CHECK(practice(desk.vm).line.find("Longest yet") != std::string::npos);
}

TEST_CASE("a plan that hides the line hides it, whatever the person prefers")
{
    Plan plan = two_warm_ups();
    plan.pitch_line = PitchLine::hidden;
    Desk desk{start_of(plan)};
    desk.settle();
    desk.tell(scripted::sounding(voice(5.0), desk.at, Seconds{5.0}));
    CHECK(ribbon(desk.vm).ink.empty());
    CHECK(ribbon(desk.vm).filled_s);
}
