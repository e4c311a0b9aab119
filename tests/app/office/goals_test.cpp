// Goals that can be measured, and the list of what left this computer.

#include <doctest/doctest.h>

#include "app/practice/goal_builder.h"
#include "tests/app/office/desk_office.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

struct Clinic {
    ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    Id client{desk.ask<ClientAdded>(AddClient{"C-104"}).client.id};

    void practise(int days_ago)
    {
        Practice practice;
        practice.client = client;
        practice.begun = {day_after(desk.now.date, -std::chrono::days{days_ago}), {}};
        practice = desk.ask<PracticeBegun>(BeginPractice{practice}).practice;
        for (int number = 1; number <= 2; ++number) {
            Trial trial = a_trial(number);
            trial.target = kF4;
            std::get<HoldMeasures>(trial.measures).in_band = Seconds{5.0};
            desk.ask<TrialKept>(KeepTrial{practice.id, trial, {}});
        }
    }
};

MeasurableGoal five_seconds()
{
    MeasurableGoal goal;
    goal.kind = DrillKind::warm_up_hold;
    goal.hold = Seconds{5.0};
    goal.met = 2;
    goal.trials = 2;
    goal.days = 2;
    return goal;
}

}  // namespace

TEST_CASE("a goal is set from today on, and judged by what is sung from that day")
{
    Clinic clinic;
    clinic.practise(1);  // before it was set
    auto opened = clinic.desk.ask<ClientOpened>(SetGoal{clinic.client, five_seconds()});
    REQUIRE(opened.file.goals.size() == 1);
    const ClientGoal goal = opened.file.goals[0];
    CHECK(goal.goal == five_seconds());
    CHECK(goal.set_on == clinic.desk.now.date);
    CHECK_FALSE(goal.id.text.empty());

    clinic.practise(0);
    opened = clinic.desk.ask<ClientOpened>(OpenClient{clinic.client});
    CHECK_FALSE(record_of(goal, opened.file, opened.today).met_on);  // one day of two
    clinic.desk.now.date = day_after(clinic.desk.now.date, std::chrono::days{1});
    clinic.practise(0);
    opened = clinic.desk.ask<ClientOpened>(OpenClient{clinic.client});
    const GoalRecord record = record_of(goal, opened.file, opened.today);
    CHECK(record.met_on == clinic.desk.now.date);
    CHECK(history_of(goal, record, opened.today) == "Set 2 March 2026; met on 3 March 2026.");
    CHECK(opened.file.plans.empty());  // met or not, nothing begins by itself
}

TEST_CASE("a goal that is withdrawn stays, and what is sung afterwards is not read for it")
{
    Clinic clinic;
    const auto set = clinic.desk.ask<ClientOpened>(SetGoal{clinic.client, five_seconds()});
    const Id goal = set.file.goals[0].id;
    clinic.practise(0);
    clinic.desk.ask<ClientOpened>(WithdrawGoal{clinic.client, goal});
    const Date withdrawn = clinic.desk.now.date;
    clinic.desk.now.date = day_after(withdrawn, std::chrono::days{1});
    clinic.practise(0);
    // A second time changes no day.
    const auto opened = clinic.desk.ask<ClientOpened>(WithdrawGoal{clinic.client, goal});
    REQUIRE(opened.file.goals.size() == 1);
    const ClientGoal& kept = opened.file.goals[0];
    CHECK(kept.withdrawn_on == withdrawn);
    const GoalRecord record = record_of(kept, opened.file, opened.today);
    CHECK_FALSE(record.met_on);
    CHECK(record.days_read == 1);
    CHECK(history_of(kept, record, opened.today) == "Set 2 March 2026; withdrawn 2 March 2026.");
}

TEST_CASE("a goal that cannot be measured, or is nobody's, is refused")
{
    Clinic clinic;
    MeasurableGoal goal = five_seconds();
    goal.met = 3;
    CHECK_FALSE(clinic.desk.refusal(SetGoal{clinic.client, goal}).empty());
    CHECK_FALSE(clinic.desk.refusal(SetGoal{Id{"nobody"}, five_seconds()}).empty());
    CHECK_FALSE(clinic.desk.refusal(WithdrawGoal{clinic.client, Id{"none"}}).empty());
    CHECK(clinic.desk.ask<ClientOpened>(OpenClient{clinic.client}).file.goals.empty());
}

TEST_CASE("every file that is written for somebody else is noted with what is in it")
{
    Clinic clinic;
    clinic.practise(0);
    Plan plan;
    plan.title = "Daily practice";
    clinic.desk.ask<PlanSaved>(SavePlan{clinic.client, plan});
    clinic.desk.ask<Written>(ExportPlan{.client = clinic.client, .path = {}, .passphrase = ""});
    ExportPractices practices;
    practices.client = clinic.client;
    practices.passphrase = "three plain words";
    practices.dates = DateForm::day_numbers;
    practices.clips = ClipsInExport::included;
    clinic.desk.ask<Written>(practices);
    WriteReport report;
    report.client = clinic.client;
    report.name = "A. Client";
    clinic.desk.ask<Written>(report);
    WriteTable table;
    table.client = clinic.client;
    clinic.desk.ask<Written>(table);
    table.path = "/nowhere/at/all.csv";
    clinic.desk.refusal(table);  // what was not written is not noted

    const Date day = clinic.desk.now.date;
    using What = HandedOut::What;
    const std::vector<HandedOut> expected{
        {.what = What::plan, .day = day},
        {.what = What::practices,
         .days = HandedOut::Days::numbers,
         .day = day,
         .audio = true,
         .sealed = true},
        {.what = What::report, .day = day, .name = true},
        {.what = What::table, .day = day},
    };
    CHECK(clinic.desk.ask<ClientOpened>(OpenClient{clinic.client}).handed_out == expected);
    CHECK(clinic.desk.ask<HomeLoaded>(SetHome{clinic.client}).handed_out == expected);
    clinic.desk.ask<ClientDeleted>(DeleteClient{clinic.client});
    CHECK(clinic.desk.ask<HomeLoaded>(LoadHome{}).handed_out.empty());
}
