// Every command on records with what it cannot work with: one sentence that says what and where, on
// standard error alone, and an exit status that a script notices.

#include <doctest/doctest.h>

#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "app/cli/near_match.h"
#include "app/cli/phrases.h"
#include "app/files/plan_file.h"
#include "app/files/practice_file.h"
#include "tests/app/cli/records_desk.h"
#include "tests/support/records/course.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

namespace fs = std::filesystem;

using Words = std::vector<std::string>;

// One sentence, whatever it says.
void check_refused(const Ran& ran, const std::string& says)
{
    CHECK(ran.status != ExitStatus::ok);
    CHECK(ran.out.empty());
    CHECK(std::ranges::count(ran.err, '\n') == 1);
    CHECK(ran.err.ends_with("\n"));
    CHECK_MESSAGE(ran.err.find(says) != std::string::npos, ran.err);
    CHECK(ran.err.starts_with("holdwell"));
}

std::string practices_text()
{
    return as_json(PracticeFile{.records = record_of({.days = 3, .code = "C-104"}), .clips = {}});
}

struct Row {
    const char* what;
    std::string content;  // of the file named
    const char* says;
};

}  // namespace

TEST_CASE("a file that cannot be taken in, whatever is wrong with it")
{
    Desk desk;
    const std::string whole = practices_text();
    const Row rows[] = {
        {"empty", "", "neither a plan nor practices"},
        {"an empty list", "[]", "neither a plan nor practices"},
        {"an empty object", "{}", "neither a plan nor practices"},
        {"words", "hello", "neither a plan nor practices"},
        {"bytes", std::string("\0\xff\xfe\0\x01", 5), "neither a plan nor practices"},
        {"cut in half", whole.substr(0, whole.size() / 2), "This is not JSON"},
        {"of another program", "{\"format\": \"other\", \"version\": 1}", "neither a plan nor"},
        {"of a later version", "{\"format\": \"holdwell practices\", \"version\": 99}",
         "a later version of Holdwell"},
        {"sealed, with nothing in it", "HOLDSEAL", "--passphrase-file"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.what);
        const std::string file = desk.file("näher dran, bitte.json", row.content);
        check_refused(desk({"import", file, "--yes"}), row.says);
        check_refused(desk({"import", file}), "bitte.json");
    }
    CHECK(desk({"client", "list"}).out == "There is nobody yet.\n");
}

TEST_CASE("a plan file that cannot be practised names the file, whatever is wrong with it")
{
    Desk desk;
    const Row rows[] = {
        {"empty", "", "is empty"},
        {"an empty list", "[]", "It is a list; it may be an object"},
        {"an empty object", "{}", "format"},
        {"words", "hello", "line 1, column 1"},
        {"practices", practices_text(), "format"},
        {"sealed", "HOLDSEAL and more", "is sealed with a passphrase"},
        {"nested", std::string(100, '[') + std::string(100, ']'), "deep"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.what);
        const std::string file = desk.file("a plan.json", row.content);
        for (const char* verb : {"check", "show"}) {
            const Ran ran = desk({"plan", verb, file});
            CHECK(ran.status == ExitStatus::trouble);
            CHECK(ran.out.empty());
            CHECK_MESSAGE(ran.err.find(row.says) != std::string::npos, ran.err);
            CHECK_MESSAGE(ran.err.find("a plan.json") != std::string::npos, ran.err);
        }
    }
}

TEST_CASE("a path that is no file, for every command that reads one")
{
    Desk desk;
    desk({"client", "add", "C-1"});
    const std::string folder = desk.path("");
    const std::string none = desk.path("none at all.json");
    const std::string beyond = desk.file("file", "x") + "/below.json";
    for (const Words& command : {Words{"import"}, Words{"plan", "check"}, Words{"plan", "show"}}) {
        for (const std::string& path : {none, folder, beyond, std::string{"/dev/null"},
                                        std::string{"caf\xe9.json"}, std::string(5000, 'x')}) {
            CAPTURE(path);
            Words words = command;
            words.push_back(path);
            check_refused(desk(words), ":");
        }
    }
    const std::string secret = desk.file("secret.json", practices_text());
    chmod(secret.c_str(), 0);
    if (geteuid() != 0) check_refused(desk({"import", secret}), "cannot be read");
    for (const std::string& phrase :
         {none, folder, desk.file("no words", ""), desk.file("a line", "\n")}) {
        CAPTURE(phrase);
        check_refused(
            desk({"import", desk.file("p.json", practices_text()), "--passphrase-file", phrase}),
            "--passphrase-file");
    }
}

TEST_CASE("a client who is not there, or who is not the only one, for every command")
{
    Desk desk;
    const Words commands[]{{"plan", "show"},        {"practice", "list"}, {"export", "plan"},
                           {"export", "practices"}, {"export", "table"},  {"report"}};
    for (const Words& command : commands)
        check_refused(desk(command), "there is nobody in the records yet");
    desk({"client", "add", "Łucja Ångström"});
    for (const Words& command : commands) {
        Words words = command;
        words.insert(words.end(), {"--client", "nobody\x1b[2J"});
        check_refused(desk(words), "there is no client \"nobody?[2J\"");
    }
    desk({"client", "add", "C-2"});
    for (const Words& command : commands) check_refused(desk(command), "there are 2 clients");
    for (const char* verb : {"archive", "restore", "delete"}) {
        check_refused(desk({"client", verb, "nobody"}), "there is no client \"nobody\"");
        check_refused(desk({"client", verb, "C-2", "C-3"}), "one code at a time");
    }
    for (const std::string& code : {std::string{}, std::string{" "}, std::string(41, 'x'),
                                    std::string{"a\nb"}, std::string{"\xff\xfe"}})
        check_refused(desk({"client", "add", code}), "1 to 40 letters");
    check_refused(desk({"client", "add", "c-2"}), "There is a client \"C-2\" already");
}

TEST_CASE("a place that cannot be written to, for every command that writes")
{
    Desk desk;
    REQUIRE(desk({"import", desk.file("p.json", practices_text()), "--yes"}).status ==
            ExitStatus::ok);
    const Words commands[]{
        {"export", "plan"}, {"export", "practices"}, {"export", "table"}, {"report"}};
    const std::string file = desk.file("a file", "x");
    const fs::path sealed_off = desk.path("sealed off");
    fs::create_directory(sealed_off);
    chmod(sealed_off.c_str(), 0500);
    for (const Words& command : commands) {
        CAPTURE(command.back());
        const auto to = [&](const std::string& out) {
            Words words = command;
            words.insert(words.end(), {"--out", out});
            return desk(words);
        };
        check_refused(to(desk.path("no/such/folder/x")), "there is no such folder");
        check_refused(to(file + "/x"), "no such folder");
        check_refused(to("/dev/full"), "is no file that could be written");
        check_refused(to(desk.path(std::string(300, 'n'))), "its name is too long");
        if (geteuid() != 0) check_refused(to((sealed_off / "x").string()), "may not be written");
        const Ran beside = to(file);
        CHECK(beside.status == ExitStatus::ok);  // a number is put to it
        CHECK(beside.out.find("a file-") != std::string::npos);
    }
    chmod(sealed_off.c_str(), 0700);
}

TEST_CASE("days that the calendar has not, numbers that nobody means, words that are none")
{
    Desk desk;
    REQUIRE(desk({"import", desk.file("p.json", practices_text()), "--yes"}).status ==
            ExitStatus::ok);
    const std::string file = desk.path("p.json");
    const Words rows[]{
        {"report", "--from", "2026-02-30"},
        {"report", "--from", "-1"},
        {"report", "--until", "99999999999999999999-01-01"},
        {"report", "--until", "2026-13-01"},
        {"report", "--from", "2026-04-02", "--until", "2026-04-01"},
        {"import", file, "--day-one", "2026-00-10"},
        {"plan", "new", "99999999999999999999"},
        {"plan", "new", "-1"},
        {"plan", "new", "0"},
        {"client", "list", "--only", "everyone"},
        {"client", "list", "--format", ""},
        {"practice", "list", "--format", "JSON "},
        {"plan", "templates", "--format", "yaml"},
        {"coach", "--goal", "1e400"},
        {"coach", "--trials", "-1"},
        {"coach", "--trials", "99999999999"},
        {"export", "practises"},
        {"client", "ad", "X"},
        {"client", "list", "--data", file},
        {"client", "list", "--data", file + "/below"},
        {"client", "list", "--data", ""},
        {"client", "list", "--only", ""},
        {"practice", "list", "--client", ""},
        {"export", "table", "--out", ""},
        {"report", "--from", ""},
        {"report", "--until", ""},
        {"import", file, "--passphrase-file", ""},
        {"import", file, "--day-one", ""},
        {"coach", "--plan", "home", "--data", ""},
    };
    for (const Words& words : rows) {
        CAPTURE(words.front() + " " + words.back());
        check_refused(desk(words), words.front());
    }
}

TEST_CASE("what could not be written out is no success")
{
    std::ostringstream err;
    std::ostream full{nullptr};  // takes nothing
    const Console console{.out = full, .err = err, .err_is_terminal = false};
    Surroundings around;
    around.list_microphones = [] {
        return Result<std::vector<std::string>>{std::vector<std::string>{"one"}};
    };
    for (const Words& words : {Words{"devices"}, Words{"--help"}, Words{"measure", "--help"},
                               Words{"client", "list", "-h"}, Words{"--version"}}) {
        CAPTURE(words.front());
        err.str("");
        CHECK(run_command_line(words, console, around) == ExitStatus::trouble);
        CHECK(err.str().find("could not be written") != std::string::npos);
        CHECK(std::ranges::count(err.str(), '\n') == 1);
    }
}

TEST_CASE("a word that was mistyped is told from one that nobody knows")
{
    const std::vector<std::string> words{"check", "show", "templates", "new"};
    CHECK(near_match("chekc", words) == "check");
    CHECK(near_match("chec", words) == "check");
    CHECK(near_match("template", words) == "templates");
    CHECK(near_match("shows", words) == "show");
    CHECK(near_match("no", words).empty());
    CHECK(near_match("delete", words).empty());
    CHECK(near_match("", words).empty());
    CHECK(near_match(std::string(100'000, 'x'), words).empty());
}

TEST_CASE("what is shown on a terminal is letters, whatever was typed or read")
{
    CHECK(printable("Łucja Ångström 🙂") == "Łucja Ångström 🙂");
    CHECK(printable("a\x1b[2Jb\r\n") == "a?[2Jb??");
    CHECK(printable("caf\xe9 au lait\xff") == "caf? au lait?");
    CHECK(printable("\xc3") == "?");
    CHECK(printable("").empty());
}
