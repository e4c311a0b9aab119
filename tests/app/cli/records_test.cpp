// The commands on records, as a script would use them: two folders of records, files between them.

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "app/files/plan_file.h"
#include "app/files/practice_file.h"
#include "tests/app/cli/records_desk.h"
#include "tests/support/records/course.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

namespace fs = std::filesystem;

std::string content(const std::string& path)
{
    std::ostringstream text;
    text << std::ifstream{path, std::ios::binary}.rdbuf();
    return text.str();
}

std::size_t lines_in(const std::string& text)
{
    return static_cast<std::size_t>(std::ranges::count(text, '\n'));
}

std::string practices_of_a_client(const Desk& desk)
{
    const PracticeFile file{.records = record_of({.days = 14, .code = "C-104"}), .clips = {}};
    return desk.file("practices.json", as_json(file));
}

void check_done(const Ran& ran)
{
    CHECK(ran.err == "");
    CHECK(ran.status == ExitStatus::ok);
}

}  // namespace

TEST_CASE("a plan is begun from a template, checked and shown")
{
    Desk desk;
    const Ran begun = desk({"plan", "new", "1"});
    check_done(begun);
    const std::string path = desk.file("p.json", begun.out);
    const Ran checked = desk({"plan", "check", path});
    check_done(checked);
    CHECK(checked.out == path + ": this plan can be practised, 16 trials a time\n");
    const Ran shown = desk({"plan", "show", path});
    check_done(shown);
    CHECK(shown.out.starts_with("Daily practice, higher voice (revision 1, written on 27 April"));
    CHECK(shown.out.find("Ladder hold on C4 D4 E4 F4 G4, 2 times each") != std::string::npos);
    CHECK(lines_in(desk({"plan", "templates", "--format", "json"}).out) == 6);
}

TEST_CASE("every fault of a plan file is told on a line of its own")
{
    Desk desk;
    const std::string path =
        desk.file("p.json", R"({"format": "holdwell plan", "version": 1, "weeks": 99, "goal": 3})");
    const Ran ran = desk({"plan", "check", path});
    CHECK(ran.status == ExitStatus::trouble);
    CHECK(ran.out.empty());
    CHECK(lines_in(ran.err) == 2);
    CHECK(ran.err.find("holdwell plan check: " + path + ": weeks: ") != std::string::npos);
}

TEST_CASE("clients are added, found by code, archived and, when it is meant, deleted")
{
    Desk desk;
    CHECK(desk({"client", "list"}).out == "There is nobody yet.\n");
    CHECK(desk({"client", "add", "C-17"}).out == "\"C-17\" was added.\n");
    CHECK(desk({"client", "add", "c-17"}).status == ExitStatus::trouble);
    CHECK(desk({"client", "archive", "c-17"}).out == "\"C-17\" is archived now.\n");
    CHECK(desk({"client", "list", "--format", "csv"}).out ==
          "code,standing,last_practice,practices_this_week,asked_a_week,goal_share,"
          "reported_discomfort,not_practised,near_goal\r\n");
    CHECK(desk({"client", "list", "--all", "--format", "json"}).out ==
          "{\"code\":\"C-17\",\"standing\":\"archived\",\"last_practice\":null,"
          "\"practices_this_week\":0,\"asked_a_week\":0,\"goal_share\":null,"
          "\"reported_discomfort\":false,\"not_practised\":false,\"near_goal\":false}\n");
    CHECK(desk({"client", "restore", "C-17"}).status == ExitStatus::ok);
    const Ran unsure = desk({"client", "delete", "C-17"});
    CHECK(unsure.status == ExitStatus::trouble);
    CHECK(unsure.err == "holdwell client delete: this deletes \"C-17\" with 0 practices, 0 trials "
                        "and 0 recordings for good; add --yes if that is meant\n");
    CHECK(lines_in(desk({"client", "list"}).out) == 2);
    check_done(desk({"client", "delete", "C-17", "--yes"}));
    CHECK(desk({"client", "list"}).out == "There is nobody yet.\n");
}

TEST_CASE("practices are taken in only with --yes, and a second time there is nothing new")
{
    Desk desk;
    const std::string file = practices_of_a_client(desk);
    const Ran preview = desk({"import", file});
    check_done(preview);
    CHECK(preview.out.starts_with("Practices of \"C-104\", who is new here.\n"));
    CHECK(preview.out.ends_with("Nothing was changed; add --yes to take this in.\n"));
    CHECK(desk({"client", "list"}).out == "There is nobody yet.\n");

    check_done(desk({"import", file, "--yes"}));
    const Ran again = desk({"import", file, "--yes"});
    CHECK(again.out.find("New: 0 practices and 0 trials.") != std::string::npos);
    CHECK(again.out.ends_with("There was nothing new in it.\n"));
    const Ran list = desk({"practice", "list", "--format", "csv"});
    check_done(list);
    CHECK(lines_in(list.out) > 20);
    CHECK(list.out.starts_with("day,time,completion,trials,"));
}

TEST_CASE("what is exported from one folder of records is the same in another")
{
    Desk desk;
    check_done(desk({"import", practices_of_a_client(desk), "--yes"}));
    const Ran out = desk({"export", "practices", "--out", desk.path("a.json")});
    check_done(out);
    CHECK(out.out.starts_with(desk.path("a.json") + "\n"));
    check_done(desk({"import", desk.path("a.json"), "--yes", "--data", desk.path("other")}));
    check_done(
        desk({"export", "practices", "--out", desk.path("b.json"), "--data", desk.path("other")}));
    CHECK(content(desk.path("a.json")) == content(desk.path("b.json")));
    check_done(desk({"export", "table", "--day-numbers", "--out", desk.path("t.csv")}));
    CHECK(content(desk.path("t.csv")).find("2026-") == std::string::npos);
    // Never over what is there.
    CHECK(desk({"export", "practices", "--out", desk.path("a.json")})
              .out.starts_with(desk.path("a-2.json") + "\n"));
}

TEST_CASE("a sealed file needs its passphrase, which is read from a file")
{
    Desk desk;
    check_done(desk({"client", "add", "C-17"}));
    const std::string words = desk.file("words", "four words are enough\nthe rest is not read");
    check_done(desk({"export", "practices", "--out", desk.path("s"), "--passphrase-file", words}));
    const Ran without = desk({"import", desk.path("s")});
    CHECK(without.status == ExitStatus::trouble);
    CHECK(without.err == "holdwell import: " + desk.path("s") +
                             " is sealed; name a file that holds its passphrase with "
                             "--passphrase-file\n");
    check_done(desk({"import", desk.path("s"), "--passphrase-file", words}));
    const std::string wrong = desk.file("wrong", "five words are not enough\n");
    CHECK(desk({"import", desk.path("s"), "--passphrase-file", wrong}).status ==
          ExitStatus::trouble);
    CHECK(desk({"import", desk.path("s"), "--passphrase-file", desk.path("none")}).err ==
          "holdwell import: --passphrase-file " + desk.path("none") +
              ": it cannot be read, or is empty\n");
}

TEST_CASE("a report is written, and the records say where they are")
{
    Desk desk;
    check_done(desk({"import", practices_of_a_client(desk), "--yes"}));
    const Ran report = desk({"report", "--out", desk.path("r.pdf"), "--from", "2026-03-02"});
    check_done(report);
    CHECK(content(desk.path("r.pdf")).starts_with("%PDF-"));
    const Ran where = desk({"records"});
    check_done(where);
    CHECK(where.out.starts_with(desk.path("data") + "\n1 client, "));
}

TEST_CASE("what was typed wrongly is told in one sentence, and nothing is done")
{
    Desk desk;
    struct Row {
        std::vector<std::string> words;
        ExitStatus status;
        const char* sentence;
    };
    const Row rows[] = {
        {{"plan"},
         ExitStatus::wrong_usage,
         "holdwell plan: say what to do: check, show, templates, new; \"holdwell plan --help\" "
         "lists what there is"},
        {{"plan", "check"},
         ExitStatus::wrong_usage,
         "holdwell plan check: name a plan's file, for example my-plan.json; \"holdwell plan check "
         "--help\" lists what there is"},
        {{"client", "rename", "C-17"},
         ExitStatus::wrong_usage,
         "holdwell client: there is no \"rename\"; it can be list, add, archive, restore, delete"},
        {{"plan", "chekc", "a.json"},
         ExitStatus::wrong_usage,
         "holdwell plan: there is no \"chekc\"; did you mean \"holdwell plan check\"?"},
        {{"practise", "list"},
         ExitStatus::wrong_usage,
         "holdwell: there is no command \"practise\"; did you mean \"holdwell practice\"?"},
        {{"practice", "list", "--format", "xml"},
         ExitStatus::wrong_usage,
         "holdwell practice list: --format xml: it can be text, json or csv"},
        {{"report", "--until", "yesterday"},
         ExitStatus::wrong_usage,
         "holdwell report: --until yesterday: write a day such as 2026-03-09"},
        {{"practice", "list"},
         ExitStatus::trouble,
         "holdwell practice list: there is nobody in the records yet; \"holdwell client add\" "
         "makes "
         "a client"},
        {{"plan", "show", "--client", "X"},
         ExitStatus::trouble,
         "holdwell plan show: there is no client \"X\"; \"holdwell client list --all\" names "
         "everybody"},
        {{"plan", "new", "thirteen"},
         ExitStatus::trouble,
         "holdwell plan new: there is no template \"thirteen\"; \"holdwell plan templates\" names "
         "them"},
        {{"import", "none.json"},
         ExitStatus::trouble,
         "holdwell import: none.json is not there; look whether its name is right."},
    };
    for (const Row& row : rows) {
        CAPTURE(row.sentence);
        const Ran ran = desk(row.words);
        CHECK(ran.status == row.status);
        CHECK(ran.err == std::string{row.sentence} + "\n");
        CHECK(ran.out.empty());
    }
}
