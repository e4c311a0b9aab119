// Two computers that only exchange files: a therapist's and a client's.

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>

#include "app/files/plan_file.h"
#include "app/files/practice_file.h"
#include "tests/app/office/desk_office.h"

using namespace holdwell;
using test::OfficeInFolder;
using test::ScratchFolder;

namespace {

namespace fs = std::filesystem;

std::string content(const fs::path& path)
{
    std::ifstream file{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{file}, {}};
}

// Each with folders and ids of its own.
struct Computers {
    ScratchFolder folder;
    OfficeInFolder clinic{folder.path("clinic/data")};
    OfficeInFolder home{folder.path("home/data")};
    Computers() { home.ids = 5000; }
};

Practice practise(OfficeInFolder& office, const ClientFile& who, int trials)
{
    Practice practice;
    practice.client = who.client.id;
    practice.plan = who.plans.back().id;
    practice.plan_revision = who.plans.back().revision;
    practice = office.ask<PracticeBegun>(BeginPractice{practice}).practice;
    for (int i = 1; i <= trials; ++i)
        office.ask<TrialKept>(KeepTrial{practice.id, test::a_trial(i), {}});
    practice.completion = Completion::complete;
    return office.ask<PracticeClosed>(ClosePractice{practice}).practice;
}

ClientFile at_home(OfficeInFolder& home) { return home.ask<HomeLoaded>(LoadHome{}).file; }

ClientFile opened(OfficeInFolder& office, const Id& client)
{
    return office.ask<ClientOpened>(OpenClient{client}).file;
}

// A client of the clinic, with a plan that was handed over to her and taken in at home.
Id client_with_plan(Computers& both)
{
    const Client client = both.clinic.ask<ClientAdded>(AddClient{"C-17"}).client;
    Plan plan;
    plan.weeks = 4;
    both.clinic.ask<PlanSaved>(SavePlan{client.id, plan});
    const auto file = both.clinic.ask<Written>(ExportPlan{.client = client.id});
    at_home(both.home);
    const auto preview = both.home.ask<ImportPreviewed>(PreviewImport{.path = file.path});
    CHECK(preview.carries == Carries::plan);
    REQUIRE(preview.plan);
    CHECK(preview.plan->weeks == 4);
    CHECK(at_home(both.home).plans.back().weeks != 4);  // not before it was confirmed
    both.home.ask<Imported>(ConfirmImport{});
    return client.id;
}

}  // namespace

TEST_CASE("a plan goes home, practices come back to the client they belong to, and twice is once")
{
    Computers both;
    const Id client = client_with_plan(both);
    CHECK(at_home(both.home).plans.back().weeks == 4);
    const Practice done = practise(both.home, at_home(both.home), 3);
    const auto file =
        both.home.ask<Written>(ExportPractices{.client = at_home(both.home).client.id});

    const auto preview = both.clinic.ask<ImportPreviewed>(PreviewImport{.path = file.path});
    CHECK(preview.client_code == "C-17");
    CHECK_FALSE(preview.client_is_new);
    CHECK(preview.new_practices == 1);
    CHECK(preview.new_trials == 3);
    CHECK(preview.conflicts.empty());
    CHECK_FALSE(preview.plan);
    CHECK(opened(both.clinic, client).practices.empty());

    CHECK(both.clinic.ask<Imported>(ConfirmImport{}).practices == 1);
    const ClientFile there = opened(both.clinic, client);
    REQUIRE(there.practices.size() == 1);
    CHECK(there.practices[0].id == done.id);
    CHECK(there.practices[0].client == client);
    CHECK(there.practices[0].trials.size() == 3);
    CHECK(there.plans.back().weeks == 4);

    const auto again = both.clinic.ask<ImportPreviewed>(PreviewImport{.path = file.path});
    CHECK(again.new_practices == 0);
    CHECK(again.already_here == 1);
    CHECK(both.clinic.ask<Imported>(ConfirmImport{}).practices == 0);
    CHECK(opened(both.clinic, client).practices.size() == 1);
    CHECK(both.clinic.ask<ClientsListed>(ListClients{}).lines.size() == 1);
}

TEST_CASE("a client whom nobody here knows is new, and never takes another's code")
{
    Computers both;
    at_home(both.home);
    practise(both.home, at_home(both.home), 1);
    Client me = at_home(both.home).client;
    me.code = "C-17";
    both.home.ask<ClientChanged>(ChangeClient{me});
    const auto file = both.home.ask<Written>(ExportPractices{.client = me.id});
    both.clinic.ask<ClientAdded>(AddClient{"c-17"});
    const auto preview = both.clinic.ask<ImportPreviewed>(PreviewImport{.path = file.path});
    CHECK(preview.client_is_new);
    CHECK(preview.client_code == "C-17 (2)");
    CHECK(preview.notes.size() == 1);
    both.clinic.ask<Imported>(ConfirmImport{});
    CHECK(both.clinic.ask<ClientsListed>(ListClients{}).lines.size() == 2);
}

TEST_CASE("whose a file is can be said, and is remembered by what was taken in")
{
    Computers both;
    at_home(both.home);
    practise(both.home, at_home(both.home), 1);
    const Id me = at_home(both.home).client.id;
    const Client client = both.clinic.ask<ClientAdded>(AddClient{"C-17"}).client;
    const auto first = both.home.ask<Written>(ExportPractices{.client = me});
    both.clinic.ask<ImportPreviewed>(PreviewImport{.path = first.path, .into = client.id});
    both.clinic.ask<Imported>(ConfirmImport{});
    practise(both.home, at_home(both.home), 2);
    const auto second = both.home.ask<Written>(ExportPractices{.client = me});
    CHECK(second.path != first.path);
    const auto preview = both.clinic.ask<ImportPreviewed>(PreviewImport{.path = second.path});
    CHECK(preview.client_code == "C-17");
    CHECK(preview.new_practices == 1);
    CHECK(preview.already_here == 1);
}

TEST_CASE("a sealed file opens with its passphrase alone, and nothing is taken in otherwise")
{
    Computers both;
    const Id client = client_with_plan(both);
    practise(both.home, at_home(both.home), 2);
    const Id me = at_home(both.home).client.id;
    const auto file = both.home.ask<Written>(
        ExportPractices{.client = me, .passphrase = "vier kleine W\u00f6rter"});
    CHECK(file.path.string().ends_with(".json.sealed"));
    CHECK(content(file.path).find("practices") == std::string::npos);

    const Answer asked = both.clinic.office->answer(PreviewImport{.path = file.path});
    REQUIRE(std::holds_alternative<Refused>(asked));
    CHECK(std::get<Refused>(asked).wants_passphrase);
    const Answer wrong = both.clinic.office->answer(
        PreviewImport{.path = file.path, .passphrase = "vier kleine worter"});
    REQUIRE(std::holds_alternative<Refused>(wrong));
    CHECK(std::get<Refused>(wrong).wants_passphrase);
    CHECK(std::get<Refused>(wrong).sentence ==
          "The passphrase does not fit this file, or the file was changed on its way; nothing was "
          "read.");
    both.clinic.refusal(ConfirmImport{});
    CHECK(opened(both.clinic, client).practices.empty());

    both.clinic.ask<ImportPreviewed>(
        PreviewImport{.path = file.path, .passphrase = "vier kleine W\u00f6rter"});
    both.clinic.ask<Imported>(ConfirmImport{});
    CHECK(opened(both.clinic, client).practices.size() == 1);
}

TEST_CASE("numbered days find their dates where one practice is known, and are asked for otherwise")
{
    Computers both;
    const Id client = client_with_plan(both);
    practise(both.home, at_home(both.home), 1);
    const Id me = at_home(both.home).client.id;
    const auto numbered =
        both.home.ask<Written>(ExportPractices{.client = me, .dates = DateForm::day_numbers});
    CHECK(content(numbered.path).find("2026") == std::string::npos);

    const auto preview = both.clinic.ask<ImportPreviewed>(PreviewImport{.path = numbered.path});
    CHECK(preview.has_numbered_days);
    CHECK(both.clinic.refusal(ConfirmImport{}) ==
          "This file counts days instead of dates; say on which date its day 1 stands.");
    const Date day_one = both.home.now.date;
    const Date to_come = day_after(both.clinic.now.date, std::chrono::days{1});
    CHECK(both.clinic.refusal(PreviewImport{.path = numbered.path, .day_one = to_come}) ==
          "With that as its day 1 the file would hold practices of days to come; say an earlier "
          "one.");
    both.clinic.ask<ImportPreviewed>(PreviewImport{.path = numbered.path, .day_one = day_one});
    both.clinic.ask<Imported>(ConfirmImport{});
    REQUIRE(opened(both.clinic, client).practices.size() == 1);
    CHECK(opened(both.clinic, client).practices[0].begun.date == day_one);

    both.home.now.date = day_after(day_one, std::chrono::days{10});
    practise(both.home, at_home(both.home), 1);
    const auto later =
        both.home.ask<Written>(ExportPractices{.client = me, .dates = DateForm::day_numbers});
    CHECK_FALSE(
        both.clinic.ask<ImportPreviewed>(PreviewImport{.path = later.path}).has_numbered_days);
    both.clinic.ask<Imported>(ConfirmImport{});
    REQUIRE(opened(both.clinic, client).practices.size() == 2);
    CHECK(opened(both.clinic, client).practices[1].begun.date == both.home.now.date);
}

TEST_CASE("recordings travel only when they were asked for")
{
    Computers both;
    const Id client = client_with_plan(both);
    ClientFile me = at_home(both.home);
    me.client.keeps_audio = true;
    both.home.ask<ClientChanged>(ChangeClient{me.client});
    Plan plan = me.plans.back();
    plan.keeps = Keeps::audio_too;
    both.home.ask<PlanSaved>(SavePlan{me.client.id, plan});
    Practice practice;
    practice.client = me.client.id;
    practice.plan = plan.id;
    practice = both.home.ask<PracticeBegun>(BeginPractice{practice}).practice;
    both.home.ask<TrialKept>(
        KeepTrial{practice.id, test::a_trial(1), Clip{.flac = std::vector<std::byte>(500)}});

    const auto without = both.home.ask<Written>(ExportPractices{.client = me.client.id});
    CHECK(without.holds.ends_with("no recordings of the voice."));
    const auto with = both.home.ask<Written>(
        ExportPractices{.client = me.client.id, .clips = ClipsInExport::included});
    CHECK(with.holds.ends_with("1 recording of the voice, which identifies a person."));
    both.clinic.ask<ImportPreviewed>(PreviewImport{.path = without.path});
    both.clinic.ask<Imported>(ConfirmImport{});
    CHECK(both.clinic.ask<ClientOpened>(OpenClient{client}).clips.count == 0);
    both.clinic.ask<ImportPreviewed>(PreviewImport{.path = with.path});
    both.clinic.ask<Imported>(ConfirmImport{});
    CHECK(both.clinic.ask<ClientOpened>(OpenClient{client}).clips.count == 1);
    CHECK(both.clinic.ask<ClientOpened>(OpenClient{client}).clips.bytes == 500);
}

TEST_CASE("a file with a fault anywhere changes nothing, and is refused in one sentence")
{
    Computers both;
    const Id client = client_with_plan(both);
    practise(both.home, at_home(both.home), 2);
    const auto file =
        both.home.ask<Written>(ExportPractices{.client = at_home(both.home).client.id});
    std::string text = content(file.path);
    text.replace(text.find("\"hold_s\": 7"), 11, "\"hold_s\": x");
    const std::string broken = both.folder.file("broken.json", text);
    CHECK(both.clinic.refusal(PreviewImport{.path = broken})
              .starts_with("Nothing was taken from broken.json. "));
    text = content(file.path);
    text.replace(text.find("\"hold_s\": 7"), 11, "\"hold_s\":-7");
    const std::string odd = both.folder.file("odd.json", text);
    CHECK(both.clinic.refusal(PreviewImport{.path = odd}) ==
          "Nothing was taken from odd.json. practices[0].trials[1].hold.hold_s: It is -7.0; it may "
          "be a number from 0 to 3600 s.");
    both.clinic.refusal(ConfirmImport{});
    CHECK(both.clinic.refusal(PreviewImport{.path = both.folder.file("a.txt", "hello")}) ==
          "a.txt holds neither a plan nor practices of Holdwell.");
    CHECK(both.clinic.refusal(PreviewImport{.path = both.folder.path("none.json")}) ==
          both.folder.path("none.json") + " is not there; look whether its name is right.");
    CHECK(opened(both.clinic, client).practices.empty());
}

TEST_CASE("files in the usual folders are found and named by what they hold, newest first")
{
    const ScratchFolder folder;
    OfficeSettings settings;
    settings.data_folder = folder.path("data");
    settings.file_folders = {folder.path(""), folder.path("missing")};
    settings.now = [] { return Moment{}; };
    settings.new_id = [] { return Id{std::string(32, 'a')}; };
    folder.file("mine.json", as_json(PracticeFile{}));
    folder.file("theirs.json", "{\"format\": \"another\"}");
    const Plan plain;
    folder.file("plan.txt", as_json(plain));
    const fs::path plan = folder.file("plan.json", as_json(plain));
    fs::last_write_time(plan, fs::last_write_time(plan) + std::chrono::hours{1});
    Office office{settings};
    const auto found = std::get<FilesFound>(office.answer(FindFiles{}));
    REQUIRE(found.files.size() == 2);
    CHECK(found.files[0].path == plan);
    CHECK(found.files[0].says.starts_with("plan, "));
    CHECK(found.files[1].says.starts_with("practices, "));
}

TEST_CASE("a plan taken in where nobody is known is that of whoever practises here first")
{
    Computers both;
    const Client client = both.clinic.ask<ClientAdded>(AddClient{"Reed 4"}).client;
    const Plan plan;
    both.clinic.ask<PlanSaved>(SavePlan{client.id, plan});
    const auto file = both.clinic.ask<Written>(ExportPlan{.client = client.id});
    const auto preview = both.home.ask<ImportPreviewed>(PreviewImport{.path = file.path});
    CHECK(preview.carries == Carries::plan);
    CHECK(preview.client_code == "whoever practises here");
    CHECK(both.home.ask<ClientsListed>(ListClients{}).lines.empty());  // a preview changes nothing
    both.home.ask<Imported>(ConfirmImport{});
    const ClientFile me = at_home(both.home);
    CHECK(me.plans.back().id == opened(both.clinic, client.id).plans.back().id);
    // Where a therapist's clients are known and nobody practises, it is asked whose it is.
    OfficeInFolder other{both.folder.path("other/data")};
    other.ask<ClientAdded>(AddClient{"Reed 5"});
    CHECK_FALSE(other.refusal(PreviewImport{.path = file.path}).empty());
}
