#include "app/office/new_file.h"

#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fstream>
#include <iterator>

#include "tests/app/files/scratch_folder.h"

using namespace holdwell;
using test::ScratchFolder;

namespace {

std::string content(const std::filesystem::path& path)
{
    std::ifstream file{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{file}, {}};
}

std::size_t files_in(const ScratchFolder& folder)
{
    const std::filesystem::directory_iterator all{folder.path("")};
    return static_cast<std::size_t>(std::distance(begin(all), end(all)));
}

}  // namespace

TEST_CASE("a file is whole, its owner's alone, and never written over")
{
    const ScratchFolder folder;
    const auto first = write_new_file(folder.path("a.json"), "one");
    REQUIRE(first);
    CHECK(first.value() == folder.path("a.json"));
    const auto second = write_new_file(folder.path("a.json"), "two");
    REQUIRE(second);
    CHECK(second.value() == folder.path("a-2.json"));
    CHECK(write_new_file(folder.path("a.json"), "three").value() == folder.path("a-3.json"));
    CHECK(content(folder.path("a.json")) == "one");
    CHECK(content(folder.path("a-2.json")) == "two");
    CHECK(files_in(folder) == 3);  // nothing half-written is left
    struct stat status {};
    REQUIRE(stat(folder.path("a.json").c_str(), &status) == 0);
    CHECK((status.st_mode & 0777U) == 0600U);
    CHECK(write_new_file(folder.path("b.json.sealed"), "").value() == folder.path("b.json.sealed"));
    CHECK(write_new_file(folder.path("b.json.sealed"), "").value() ==
          folder.path("b-2.json.sealed"));
}

TEST_CASE("a place that cannot be written to is said in one sentence")
{
    const ScratchFolder folder;
    const auto nowhere = write_new_file(folder.path("no/such/a.json"), "x");
    REQUIRE_FALSE(nowhere);
    CHECK(nowhere.error().message == folder.path("no/such/a.json") +
                                         " cannot be written: there is no such folder; choose "
                                         "another folder.");
    // A device that is always full.
    if (geteuid() != 0) {
        const auto kept_out = write_new_file("/holdwell-test.json", "x");
        REQUIRE_FALSE(kept_out);
        CHECK(kept_out.error().message.find("may not be written") != std::string::npos);
    }
}

TEST_CASE("names for files are plain, whatever a client is called")
{
    CHECK(name_part("C-17") == "C-17");
    CHECK(name_part("../../etc/passwd") == "etc-passwd");
    CHECK(name_part("A \"b\" $(c) \n d") == "A-b-c-d");
    CHECK(name_part("Łucja Ångström") == "Łucja-Ångström");
    CHECK(name_part("...") == "client");
}

TEST_CASE("a folder that was named gets a file of the usual name")
{
    const ScratchFolder folder;
    CHECK(path_for({.wanted = {}, .folder = "/d", .name = "n.json"}) == "/d/n.json");
    CHECK(path_for({.wanted = folder.path(""), .folder = "/d", .name = "n.json"}) ==
          folder.path("n.json"));
    CHECK(path_for({.wanted = "/x/y.json", .folder = "/d", .name = "n.json"}) == "/x/y.json");
}
