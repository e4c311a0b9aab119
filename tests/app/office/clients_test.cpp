// What the therapist asks of the records: clients and their plans.

#include <doctest/doctest.h>

#include "app/files/plan_file.h"
#include "tests/app/office/desk_office.h"
#include "tests/support/records/plan_examples.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

bool contains(const std::string& text, const char* part)
{
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a client is added by a code that nobody has, and found in the roster")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const Client added = desk.ask<ClientAdded>(AddClient{"  Blue 7 "}).client;
    CHECK(added.code == "Blue 7");
    CHECK(added.since == desk.now.date);
    CHECK(added.standing == Standing::active);
    CHECK_FALSE(added.id.text.empty());
    CHECK(contains(desk.refusal(AddClient{"blue 7"}), "\"Blue 7\" already"));
    desk.ask<ClientAdded>(AddClient{"Émile Ångström-Łukasiewicz"});

    const auto listed = desk.ask<ClientsListed>(ListClients{});
    REQUIRE(listed.lines.size() == 2);
    CHECK(listed.lines[0].code == "Blue 7");
    CHECK(listed.lines[1].code == "Émile Ångström-Łukasiewicz");
    CHECK(listed.today == desk.now.date);
}

TEST_CASE("a code has 1 to 40 letters on one line")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    std::string forty;
    for (int i = 0; i < 40; ++i) forty += "é";  // two bytes each
    desk.ask<ClientAdded>(AddClient{forty});
    for (const std::string& bad : {std::string{}, std::string{"  "}, forty + "é",
                                   std::string{"two\nlines"}, std::string{"\xff"}}) {
        CAPTURE(bad);
        CHECK(contains(desk.refusal(AddClient{bad}), "1 to 40"));
    }
    CHECK(desk.ask<ClientsListed>(ListClients{}).lines.size() == 1);
}

TEST_CASE("a client can be changed, but not into another one's code")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    Client client = desk.ask<ClientAdded>(AddClient{"A"}).client;
    desk.ask<ClientAdded>(AddClient{"B"});
    client.standing = Standing::archived;
    client.keeps_audio = true;
    client.code = "a";  // her own in another spelling
    CHECK(same(desk.ask<ClientChanged>(ChangeClient{client}).client, client));
    CHECK(same(desk.ask<ClientOpened>(OpenClient{client.id}).file.client, client));
    client.code = "b";
    CHECK(contains(desk.refusal(ChangeClient{client}), "\"B\" already"));
    CHECK(desk.ask<ClientOpened>(OpenClient{client.id}).file.client.code == "a");
    client.id = Id{"nobody"};
    CHECK(contains(desk.refusal(ChangeClient{client}), "not in the records"));
}

TEST_CASE("a deleted client is gone with her plans and practices")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const Client client = desk.ask<ClientAdded>(AddClient{"A"}).client;
    const Plan plan = usual_plan();
    desk.ask<PlanSaved>(SavePlan{client.id, plan});
    Practice practice;
    practice.client = client.id;
    practice = desk.ask<PracticeBegun>(BeginPractice{practice}).practice;
    desk.ask<TrialKept>(KeepTrial{practice.id, a_trial(1), std::nullopt});
    CHECK(desk.ask<ClientDeleted>(DeleteClient{client.id}).client == client.id);
    CHECK(contains(desk.refusal(OpenClient{client.id}), "not in the records"));
    CHECK(contains(desk.refusal(KeepTrial{practice.id, a_trial(2), std::nullopt}), "deleted"));
    CHECK(desk.ask<ClientsListed>(ListClients{}).lines.empty());
    desk.ask<ClientAdded>(AddClient{"A"});  // her code is free again
}

TEST_CASE("each plan that is saved is the next revision, dated today, and comes into force")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const Client client = desk.ask<ClientAdded>(AddClient{"A"}).client;
    Plan plan = usual_plan();
    plan.title = "First";
    const Plan first = desk.ask<PlanSaved>(SavePlan{client.id, plan}).plan;
    CHECK(first.revision == 1);
    CHECK_FALSE(first.id.text.empty());
    CHECK(first.written == desk.now.date);

    desk.now.date = day_after(desk.now.date, std::chrono::days{7});
    Plan changed = first;
    changed.title = "Second";
    const Plan second = desk.ask<PlanSaved>(SavePlan{client.id, changed}).plan;
    CHECK(second.id == first.id);
    CHECK(second.revision == 2);
    CHECK(second.written == desk.now.date);

    // From the first one again: what is in force is never overwritten.
    const Plan third = desk.ask<PlanSaved>(SavePlan{client.id, first}).plan;
    CHECK(third.revision == 3);
    const auto opened = desk.ask<ClientOpened>(OpenClient{client.id});
    REQUIRE(opened.file.plans.size() == 3);
    CHECK(opened.file.plans[0] == first);
    CHECK(opened.file.plans[1] == second);
    CHECK(opened.file.plans[2] == third);
    CHECK(opened.today == desk.now.date);
}

TEST_CASE("a plan that cannot be practised is refused with the place of its fault")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    const Client client = desk.ask<ClientAdded>(AddClient{"A"}).client;
    Plan plan = usual_plan();
    plan.drills.at(2).repetitions = 11;
    CHECK(contains(desk.refusal(SavePlan{client.id, plan}), "drills[2].repetitions"));
    CHECK(desk.ask<ClientOpened>(OpenClient{client.id}).file.plans.empty());
    plan = usual_plan();
    CHECK(contains(desk.refusal(SavePlan{Id{"nobody"}, plan}), "not in the records"));
}

TEST_CASE("plans to begin from are read from their folder, and one that is broken is left out")
{
    const ScratchFolder scratch;
    OfficeInFolder desk{scratch.path("data")};
    CHECK(desk.ask<TemplatesListed>(ListTemplates{}).plans.empty());  // no folder
    std::filesystem::create_directory(scratch.path("plans"));
    Plan plan = usual_plan();
    plan.title = "Lower voices";
    REQUIRE(save_plan(scratch.path("plans/b.json"), plan));
    plan.title = "Higher voices";
    REQUIRE(save_plan(scratch.path("plans/a.json"), plan));
    scratch.file("plans/c.json", "{\"format\": ");
    scratch.file("plans/notes.txt", "not a plan");
    const auto listed = desk.ask<TemplatesListed>(ListTemplates{});
    REQUIRE(listed.plans.size() == 2);
    CHECK(listed.plans[0].title == "Higher voices");
    CHECK(listed.plans[1].title == "Lower voices");
}
