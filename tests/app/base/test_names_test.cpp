// CTest's discovery splits a name at a semicolon into two tests that match nothing.

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <regex>
#include <sstream>
#include <string>

namespace {

namespace fs = std::filesystem;

std::string text_of(const fs::path& file)
{
    std::ostringstream text;
    text << std::ifstream{file}.rdbuf();
    return text.str();
}

}  // namespace

TEST_CASE("no test case's name holds a semicolon, which would hide it from CTest")
{
    const std::regex name{R"re(TEST_CASE\(\s*"([^"]*)")re"};
    int names = 0;
    for (const auto& entry :
         fs::recursive_directory_iterator{fs::path{HOLDWELL_SOURCE_DIR} / "tests"}) {
        if (entry.path().extension() != ".cpp") continue;
        const std::string text = text_of(entry.path());
        for (std::sregex_iterator i{text.begin(), text.end(), name}, end; i != end; ++i) {
            CAPTURE(entry.path().string());
            CHECK_MESSAGE((*i)[1].str().find(';') == std::string::npos, (*i)[1].str());
            ++names;
        }
    }
    CHECK(names > 100);
}
