#include "app/cli/help_text.h"

#include <doctest/doctest.h>

#include <cstdio>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>
#include <string>

#include "tests/app/cli/session.h"
#include "tests/app/files/scratch_folder.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

std::set<std::string> options_in(std::string text)
{
    // The manual writes a hyphen as "\-".
    for (std::size_t i = text.find("\\-"); i != std::string::npos; i = text.find("\\-"))
        text.erase(i, 1);
    const std::regex option{"--[a-z][a-z-]*"};
    std::set<std::string> found;
    for (std::sregex_iterator i{text.begin(), text.end(), option}, end; i != end; ++i)
        found.insert(i->str());
    return found;
}

std::string asset(const std::string& name)
{
    std::ifstream file{HOLDWELL_SOURCE_DIR "/assets/" + name};
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

// What bash offers for the last of the words.
std::string completed(const std::string& words)
{
    const ScratchFolder folder;
    const std::string script =
        folder.file("ask.sh", "source '" HOLDWELL_SOURCE_DIR "/assets/completion/holdwell.bash'\n"
                              "COMP_WORDS=(" +
                                  words +
                                  ")\n"
                                  "COMP_CWORD=$((${#COMP_WORDS[@]} - 1))\n"
                                  "_holdwell\n"
                                  "echo -n \"${COMPREPLY[*]}\"\n");
    std::FILE* shell = popen(("bash " + script).c_str(), "r");
    REQUIRE(shell != nullptr);
    std::string said;
    for (int c = std::fgetc(shell); c != EOF; c = std::fgetc(shell)) said += static_cast<char>(c);
    CHECK(pclose(shell) == 0);
    return said;
}

// Commands and their pages.
const std::vector<std::pair<std::string, std::string_view>>& pages()
{
    static const std::vector<std::pair<std::string, std::string_view>> all{
        {"measure", kMeasureHelp}, {"coach", kCoachHelp},   {"devices", kDevicesHelp},
        {"plan", kPlanHelp},       {"client", kClientHelp}, {"practice", kPracticeHelp},
        {"export", kExportHelp},   {"import", kImportHelp}, {"report", kReportHelp},
        {"records", kRecordsHelp}};
    return all;
}

std::set<std::string> options_of_all_help()
{
    std::set<std::string> all = options_in(std::string{kHelp});
    for (const auto& [command, text] : pages()) all.merge(options_in(std::string{text}));
    return all;
}

// What a person types for a command and each of its verbs.
std::vector<std::vector<std::string>> ways_to_say(const std::string& command)
{
    if (command == "plan") return {{"plan", "show"}, {"plan", "templates"}};
    if (command == "client") return {{"client", "list"}, {"client", "delete"}};
    if (command == "practice") return {{"practice", "list"}};
    if (command == "export") return {{"export", "practices"}};
    return {{command}};
}

}  // namespace

TEST_CASE("help is printed on standard output, with exit status 0")
{
    struct Row {
        std::vector<std::string> words;
        std::string_view text;
    };
    const Row rows[] = {{{"--help"}, kHelp},
                        {{"-h"}, kHelp},
                        {{"measure", "--help"}, kMeasureHelp},
                        {{"coach", "-h"}, kCoachHelp},
                        {{"devices", "--help"}, kDevicesHelp},
                        {{"plan", "--help"}, kPlanHelp},
                        {{"plan", "check", "--help"}, kPlanHelp},
                        {{"client", "delete", "-h"}, kClientHelp},
                        {{"practice", "list", "--help"}, kPracticeHelp},
                        {{"export", "--help"}, kExportHelp},
                        {{"import", "--help"}, kImportHelp},
                        {{"report", "--help"}, kReportHelp},
                        {{"records", "--help"}, kRecordsHelp}};
    for (const Row& row : rows) {
        const Ran ran = run(row.words);
        CHECK(ran.status == ExitStatus::ok);
        CHECK(ran.out == row.text);
        CHECK(ran.err.empty());
    }
}

TEST_CASE("--version prints the name and the version")
{
    const Ran ran = run({"--version"});
    CHECK(ran.status == ExitStatus::ok);
    CHECK(std::regex_match(ran.out, std::regex{"holdwell [0-9]+\\.[0-9]+\\.[0-9]+\n"}));
}

TEST_CASE("no line of help is wider than a terminal of 100 columns")
{
    std::string all{kHelp};
    for (const auto& [command, text] : pages()) all += text;
    std::istringstream lines{all};
    for (std::string line; std::getline(lines, line);) CHECK(line.size() <= 100);
}

TEST_CASE("every option that help names is known to the program")
{
    // Whatever else is wrong, some way to say the command knows the option.
    for (const auto& page : pages()) {
        const auto command = page.first;
        for (const std::string& option : options_in(std::string{page.second})) {
            CAPTURE(command);
            CAPTURE(option);
            bool is_known = false;
            for (std::vector<std::string> words : ways_to_say(command)) {
                words.push_back(option);
                words.push_back("--no-such-option");  // so that nothing is done
                const std::string said = run(words).err;
                is_known |= said.find("there is no option " + option) == std::string::npos;
            }
            CHECK(is_known);
        }
    }
}

TEST_CASE("help, the manual and the shells' completion name the same options")
{
    const std::set<std::string> help = options_of_all_help();
    CHECK(help.size() > 10);
    CHECK(options_in(asset("holdwell.1")) == help);
    CHECK(options_in(asset("completion/holdwell.bash")) == help);
    CHECK(options_in(asset("completion/_holdwell")) == help);
}

TEST_CASE("where an option takes one of a few words, bash offers just these")
{
    CHECK(completed("holdwell measure --drill ''") == "any hold s z glide-up glide-down");
    CHECK(completed("holdwell measure --format j") == "json");
    CHECK(completed("holdwell client list --only ''") == "not-practised near-goal discomfort");
    CHECK(completed("holdwell client list --on") == "--only");
}
