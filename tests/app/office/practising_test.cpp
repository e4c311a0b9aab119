// What is asked of the records while practising at home.

#include <doctest/doctest.h>

#include <cmath>

#include "app/practice/additions.h"
#include "app/practice/counting.h"
#include "tests/app/office/desk_office.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

Practice begin(OfficeInFolder& desk, const Id& client)
{
    Practice practice;
    practice.client = client;
    practice.trials_asked = 3;
    return desk.ask<PracticeBegun>(BeginPractice{practice}).practice;
}

KeepTrial with_sound(const Id& practice, int number)
{
    return {practice, a_trial(number), Clip{Id{}, std::vector<std::byte>(1000)}};
}

}  // namespace

TEST_CASE(
    "the first start makes a client with a plan that can be practised, and later ones find her")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const auto home = desk.ask<HomeLoaded>(LoadHome{});
    CHECK(home.notice.empty());
    CHECK_FALSE(home.file.client.code.empty());
    REQUIRE(home.file.plans.size() == 1);
    CHECK(faults_of(home.file.plans[0]).empty());
    CHECK(home.file.plans[0].written == desk.now.date);
    CHECK(home.file.practices.empty());
    CHECK_FALSE(home.unfinished);
    CHECK(home.today == desk.now.date);
    CHECK(home.folder == scratch.path("data"));
    CHECK(home.bytes > 0);
    desk.start();
    const auto again = desk.ask<HomeLoaded>(LoadHome{});
    CHECK(same(again.file.client, home.file.client));
    CHECK(again.file.plans == home.file.plans);
}

TEST_CASE("ids and the moment are filled in where they are empty, and kept where they are not")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const Id client = desk.ask<HomeLoaded>(LoadHome{}).file.client.id;
    const Practice begun = begin(desk, client);
    CHECK_FALSE(begun.id.text.empty());
    CHECK(begun.begun == desk.now);
    Practice by_hand;
    by_hand.id = Id{"given"};
    by_hand.client = client;
    by_hand.begun = {day_after(desk.now.date, -std::chrono::days{3}), {}};
    CHECK(same(desk.ask<PracticeBegun>(BeginPractice{by_hand}).practice, by_hand));
    Trial trial = a_trial(1);
    CHECK_FALSE(desk.ask<TrialKept>(KeepTrial{begun.id, trial, {}}).trial.text.empty());
    trial.id = Id{"mine"};
    CHECK(desk.ask<TrialKept>(KeepTrial{begun.id, trial, {}}).trial == Id{"mine"});
    by_hand.client = Id{"nobody"};
    CHECK_FALSE(desk.refusal(BeginPractice{by_hand}).empty());
    CHECK_FALSE(desk.refusal(KeepTrial{Id{"none"}, trial, {}}).empty());
    by_hand.id = Id{"none"};
    CHECK_FALSE(desk.refusal(ClosePractice{by_hand}).empty());
}

TEST_CASE("a trial with a measure that is not a number is refused and stands in nobody's way")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const Practice practice = begin(desk, desk.ask<HomeLoaded>(LoadHome{}).file.client.id);
    Trial trial = a_trial(1);
    std::get<HoldMeasures>(trial.measures).snr = Decibels{std::nan("")};
    CHECK(desk.refusal(KeepTrial{practice.id, trial, {}}).find("not a number") !=
          std::string::npos);
    CHECK(desk.ask<TrialKept>(KeepTrial{practice.id, a_trial(2), {}}).notice.empty());
}

TEST_CASE("a practice with another client's id is refused")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    Practice practice = begin(desk, desk.ask<HomeLoaded>(LoadHome{}).file.client.id);
    practice.client = desk.ask<ClientAdded>(AddClient{"B"}).client.id;
    CHECK(desk.refusal(BeginPractice{practice}).find("another client") != std::string::npos);
}

TEST_CASE("a practice that was cut off today is there with its trials, to be gone on with")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const Id client = desk.ask<HomeLoaded>(LoadHome{}).file.client.id;
    const Practice practice = begin(desk, client);
    CHECK(desk.ask<TrialKept>(KeepTrial{practice.id, a_trial(1), {}}).notice.empty());
    desk.ask<TrialKept>(KeepTrial{practice.id, a_trial(2), {}});
    desk.start();
    const auto home = desk.ask<HomeLoaded>(LoadHome{});
    REQUIRE(home.unfinished);
    CHECK(home.unfinished->id == practice.id);
    CHECK(home.unfinished->trials.size() == 2);

    desk.now.date = day_after(desk.now.date, std::chrono::days{1});
    CHECK_FALSE(desk.ask<HomeLoaded>(LoadHome{}).unfinished);  // yesterday's is not
}

TEST_CASE("a practice begun before midnight is gone on with after it, for some hours")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const Id client = desk.ask<HomeLoaded>(LoadHome{}).file.client.id;
    desk.now.time = ClockTime{std::chrono::minutes{23 * 60 + 50}};
    const Practice practice = begin(desk, client);
    desk.ask<TrialKept>(KeepTrial{practice.id, a_trial(1), {}});
    struct Row {
        int minutes_past_midnight;
        bool goes_on;
    };
    desk.now.date = day_after(desk.now.date, std::chrono::days{1});
    // Four hours after ten to twelve it is ten to four.
    for (const Row row : {Row{5, true}, Row{3 * 60 + 49, true}, Row{3 * 60 + 50, false}}) {
        CAPTURE(row.minutes_past_midnight);
        desk.now.time = ClockTime{std::chrono::minutes{row.minutes_past_midnight}};
        CHECK(desk.ask<HomeLoaded>(LoadHome{}).unfinished.has_value() == row.goes_on);
    }
    // On the same day it is, however long ago it was begun.
    desk.now.time = ClockTime{std::chrono::minutes{9 * 60}};
    const Practice morning = begin(desk, client);
    desk.ask<TrialKept>(KeepTrial{morning.id, a_trial(1), {}});
    desk.now.time = ClockTime{std::chrono::minutes{22 * 60}};
    CHECK(desk.ask<HomeLoaded>(LoadHome{}).unfinished->id == morning.id);
}

TEST_CASE("a practice that ends before its first trial leaves no trace")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const Id client = desk.ask<HomeLoaded>(LoadHome{}).file.client.id;
    for (const Completion completion : {Completion::partial, Completion::under_way}) {
        Practice practice = begin(desk, client);
        practice.completion = completion;
        practice.rating = SelfRating{3, 0};
        desk.ask<PracticeClosed>(ClosePractice{practice});
    }
    CHECK(desk.ask<HomeLoaded>(LoadHome{}).file.practices.empty());
    CHECK(desk.ask<ClientsListed>(ListClients{}).lines[0].practices_this_week == 0);
}

TEST_CASE("how a client was is kept, though she did not sing a note")
{
    const auto kept_when = [](const auto& say) {
        const ScratchFolder scratch;
        OfficeInFolder desk{scratch.path("data")};
        Practice practice;
        practice.client = desk.ask<HomeLoaded>(LoadHome{}).file.client.id;
        practice.completion = Completion::partial;
        say(practice);
        practice = desk.ask<PracticeBegun>(BeginPractice{practice}).practice;
        desk.ask<PracticeClosed>(ClosePractice{practice});
        return desk.ask<HomeLoaded>(LoadHome{}).file.practices.size() == 1;
    };
    CHECK_FALSE(kept_when([](Practice&) {}));
    CHECK(kept_when([](Practice& p) { p.completion = Completion::not_today; }));
    CHECK(kept_when([](Practice& p) { p.completion = Completion::stopped_for_discomfort; }));
    CHECK(kept_when([](Practice& p) { p.before.hoarser = true; }));
    CHECK(kept_when([](Practice& p) { p.rating = SelfRating{0, 2}; }));
    CHECK(kept_when([](Practice& p) { p.remark = "The telephone rang."; }));
    CHECK(kept_when([](Practice& p) { p.kind = PracticeKind::entered_by_hand; }));
}

TEST_CASE("one that was cut off before its first trial is not offered, and goes when it is over")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const Id client = desk.ask<HomeLoaded>(LoadHome{}).file.client.id;
    const Practice sung = begin(desk, client);
    desk.ask<TrialKept>(KeepTrial{sung.id, a_trial(1), {}});
    desk.now.time.since_midnight += std::chrono::minutes{10};
    const Practice empty = begin(desk, client);
    desk.start();
    auto home = desk.ask<HomeLoaded>(LoadHome{});
    REQUIRE(home.unfinished);
    CHECK(home.unfinished->id == sung.id);
    CHECK(home.file.practices.size() == 2);  // it may be under way in another window
    CHECK(desk.ask<TrialKept>(KeepTrial{empty.id, a_trial(1), {}}).notice.empty());

    desk.now.time.since_midnight += std::chrono::minutes{10};
    begin(desk, client);
    desk.now.time.since_midnight += kLongestGap;
    home = desk.ask<HomeLoaded>(LoadHome{});
    CHECK(home.file.practices.size() == 2);  // the sung one, and the one with a trial now
    CHECK(home.unfinished->id == empty.id);
}

TEST_CASE("what was left open before another practice is not offered again")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const Id client = desk.ask<HomeLoaded>(LoadHome{}).file.client.id;
    const Practice left_open = begin(desk, client);
    desk.ask<TrialKept>(KeepTrial{left_open.id, a_trial(1), {}});
    desk.now.time.since_midnight += std::chrono::minutes{30};
    Practice whole = begin(desk, client);
    desk.ask<TrialKept>(KeepTrial{whole.id, a_trial(1), {}});
    CHECK(desk.ask<HomeLoaded>(LoadHome{}).unfinished->id == whole.id);
    whole.completion = Completion::complete;
    desk.ask<PracticeClosed>(ClosePractice{whole});
    CHECK_FALSE(desk.ask<HomeLoaded>(LoadHome{}).unfinished);
}

TEST_CASE("closing a practice changes what is said at its end, and nothing else")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const Id client = desk.ask<HomeLoaded>(LoadHome{}).file.client.id;
    const Practice practice = begin(desk, client);
    desk.ask<TrialKept>(KeepTrial{practice.id, a_trial(1), {}});
    Practice at_end = practice;
    at_end.completion = Completion::complete;
    at_end.rating = SelfRating{2, 0};
    at_end.remark = "easier today";
    at_end.sound_check = SoundCheckSummary{Dbfs{-60.0}, Dbfs{-25.0}, SampleRate{48'000.0}, "ab"};
    at_end.trials_asked = 99;                  // not asked for here
    at_end.begun.date = Date{};                // nor this
    at_end.trials = {a_trial(7), a_trial(8)};  // nor these
    const auto closed = desk.ask<PracticeClosed>(ClosePractice{at_end});
    CHECK(closed.notice.empty());
    CHECK(closed.practice.trials.size() == 1);
    CHECK(closed.practice.trials_asked == 3);
    CHECK(closed.practice.begun == practice.begun);
    desk.start();
    const auto home = desk.ask<HomeLoaded>(LoadHome{});
    CHECK_FALSE(home.unfinished);
    REQUIRE(home.file.practices.size() == 1);
    CHECK(same(home.file.practices[0], closed.practice));
    CHECK(home.file.practices[0].remark == "easier today");
    CHECK(home.file.practices[0].rating->effort == 2);
}

TEST_CASE("a practice by hand is kept whole, and kept again with fewer trials has fewer")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    Practice practice;
    practice.client = desk.ask<HomeLoaded>(LoadHome{}).file.client.id;
    practice.begun.date = desk.now.date;
    practice.completion = Completion::partial;
    practice.trials = {a_trial(1), a_trial(2), a_trial(3)};
    Practice kept = desk.ask<PracticeClosed>(KeepByHand{practice}).practice;
    CHECK(kept.kind == PracticeKind::entered_by_hand);
    CHECK(kept.trials.size() == 3);
    CHECK_FALSE(kept.trials[0].id.text.empty());
    kept.trials.pop_back();
    kept = desk.ask<PracticeClosed>(KeepByHand{kept}).practice;
    const auto home = desk.ask<HomeLoaded>(LoadHome{});
    REQUIRE(home.file.practices.size() == 1);
    CHECK(same(home.file.practices[0], kept));
    CHECK_FALSE(home.unfinished);

    practice.client = Id{"nobody"};
    CHECK_FALSE(desk.refusal(KeepByHand{practice}).empty());
    practice.client = kept.client;
    std::get<HoldMeasures>(practice.trials[1].measures).hold_time = Seconds{std::nan("")};
    CHECK_FALSE(desk.refusal(KeepByHand{practice}).empty());
    CHECK(desk.ask<HomeLoaded>(LoadHome{}).file.practices.size() == 1);
}

TEST_CASE("sound is kept only where the plan asks for it and the client consented")
{
    struct Row {
        Keeps keeps;
        bool consents;
        int kept;
    };
    for (const Row& row : {Row{Keeps::measures_only, false, 0}, Row{Keeps::measures_only, true, 0},
                           Row{Keeps::audio_too, false, 0}, Row{Keeps::audio_too, true, 1}}) {
        CAPTURE(row.consents);
        const ScratchFolder scratch;
        OfficeInFolder desk{scratch.path("data")};
        auto home = desk.ask<HomeLoaded>(LoadHome{});
        home.file.client.keeps_audio = row.consents;
        desk.ask<ClientChanged>(ChangeClient{home.file.client});
        home.file.plans[0].keeps = row.keeps;
        desk.ask<PlanSaved>(SavePlan{home.file.client.id, home.file.plans[0]});
        const Practice practice = begin(desk, home.file.client.id);
        desk.ask<TrialKept>(with_sound(practice.id, 1));
        const auto loaded = desk.ask<HomeLoaded>(LoadHome{});
        CHECK(loaded.clips.count == row.kept);
        CHECK(loaded.clips.bytes == 1000 * row.kept);
        CHECK(loaded.file.practices[0].trials.size() == 1);  // the measures in any case
    }
}

TEST_CASE("sound goes when the days that the plan says are over, or when it is asked for")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    auto home = desk.ask<HomeLoaded>(LoadHome{});
    home.file.client.keeps_audio = true;
    desk.ask<ClientChanged>(ChangeClient{home.file.client});
    home.file.plans[0].keeps = Keeps::audio_too;
    home.file.plans[0].keep_audio_days = 10;
    desk.ask<PlanSaved>(SavePlan{home.file.client.id, home.file.plans[0]});
    const Practice practice = begin(desk, home.file.client.id);
    const Moment first = desk.now;
    desk.ask<TrialKept>(with_sound(practice.id, 1));
    desk.now.date = day_after(first.date, std::chrono::days{10});
    desk.ask<TrialKept>(with_sound(practice.id, 2));
    CHECK(desk.ask<HomeLoaded>(LoadHome{}).clips.count == 2);
    desk.now.date = day_after(first.date, std::chrono::days{11});
    CHECK(desk.ask<HomeLoaded>(LoadHome{}).clips.count == 1);
    CHECK(desk.ask<ClientOpened>(DeleteClips{home.file.client.id}).clips.count == 0);
}

TEST_CASE("another client can become the one of this computer")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    desk.ask<HomeLoaded>(LoadHome{});
    const Client other = desk.ask<ClientAdded>(AddClient{"B"}).client;
    CHECK(desk.ask<HomeLoaded>(SetHome{other.id}).file.client.id == other.id);
    desk.start();
    CHECK(desk.ask<HomeLoaded>(LoadHome{}).file.client.id == other.id);
    CHECK_FALSE(desk.refusal(SetHome{Id{"nobody"}}).empty());
}

TEST_CASE("when the client of this computer is deleted the next start makes a new one")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const Id first = desk.ask<HomeLoaded>(LoadHome{}).file.client.id;
    desk.ask<ClientDeleted>(DeleteClient{first});
    const auto home = desk.ask<HomeLoaded>(LoadHome{});
    CHECK(home.file.client.id != first);
    CHECK(home.file.practices.empty());
    CHECK(desk.ask<ClientsListed>(ListClients{}).lines.size() == 1);
}
