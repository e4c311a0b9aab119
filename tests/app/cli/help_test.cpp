#include "app/cli/help_text.h"

#include <doctest/doctest.h>

#include <fstream>
#include <regex>
#include <set>
#include <sstream>
#include <string>

#include "tests/app/cli/session.h"

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

std::set<std::string> options_of_all_help()
{
    std::set<std::string> all;
    for (const std::string_view text : {kHelp, kMeasureHelp, kCoachHelp, kDevicesHelp})
        all.merge(options_in(std::string{text}));
    return all;
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
                        {{"devices", "--help"}, kDevicesHelp}};
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
    for (const std::string_view text : {kHelp, kMeasureHelp, kCoachHelp, kDevicesHelp}) {
        std::istringstream lines{std::string{text}};
        for (std::string line; std::getline(lines, line);) CHECK(line.size() <= 100);
    }
}

TEST_CASE("every option that help names is known to the program")
{
    const std::pair<std::string, std::string_view> pages[] = {
        {"measure", kMeasureHelp}, {"coach", kCoachHelp}, {"devices", kDevicesHelp}};
    for (const auto& [command, text] : pages) {
        for (const std::string& option : options_in(std::string{text})) {
            CAPTURE(command);
            CAPTURE(option);
            CHECK(run({command, option}).err.find("there is no option") == std::string::npos);
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
