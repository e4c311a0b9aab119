// Files that are whole or not there, tried with a process that is killed in the midst of it.

#include "app/base/whole_file.h"

#include <doctest/doctest.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <fstream>
#include <iterator>
#include <string>
#include <thread>

#include "tests/app/files/scratch_folder.h"

using namespace holdwell;
using test::ScratchFolder;
namespace fs = std::filesystem;

namespace {

std::string content(const fs::path& path)
{
    std::ifstream file{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{file}, {}};
}

std::size_t files_in(const ScratchFolder& folder)
{
    const fs::directory_iterator all{folder.path("")};
    return static_cast<std::size_t>(std::distance(begin(all), end(all)));
}

}  // namespace

TEST_CASE("a file is replaced as a whole, its owner's alone")
{
    const ScratchFolder folder;
    const std::string path = folder.path("n\u00e4her dran");
    REQUIRE(replace_file(path, "one"));
    REQUIRE(replace_file(path, "two"));
    CHECK(content(path) == "two");
    CHECK(files_in(folder) == 1);
    struct stat status {};
    REQUIRE(stat(path.c_str(), &status) == 0);
    CHECK((status.st_mode & 0777U) == 0600U);
    const auto nowhere = replace_file(folder.path("no/such/file"), "x");
    REQUIRE_FALSE(nowhere);
    CHECK(nowhere.error().message.find("there is no such folder") != std::string::npos);
    CHECK_FALSE(replace_file(folder.path(""), "x"));
}

TEST_CASE("what is no file is not written beside, and a long name is refused as one")
{
    const ScratchFolder folder;
    for (const char* device : {"/dev/full", "/dev/null"}) {
        const auto refused = write_new_file(device, "x");
        REQUIRE_FALSE(refused);
        CHECK(refused.error().message.find("is no file") != std::string::npos);
    }
    const auto long_name = write_new_file(folder.path(std::string(256, 'n')), "x");
    REQUIRE_FALSE(long_name);
    CHECK(long_name.error().message.find("its name is too long") != std::string::npos);
    CHECK(write_new_file(folder.path(std::string(255, 'n')), "x"));
    CHECK(files_in(folder) == 1);
}

TEST_CASE("a full disk leaves neither a file nor a part of one")
{
    const ScratchFolder folder;
    const pid_t child = fork();
    if (child == 0) {
        // POSIX: with SIGXFSZ ignored, write() fails with EFBIG beyond the limit.
        signal(SIGXFSZ, SIG_IGN);
        const rlimit limit{.rlim_cur = 1000, .rlim_max = 1000};
        setrlimit(RLIMIT_FSIZE, &limit);
        const bool was_refused = !write_new_file(folder.path("a"), std::string(5000, 'x')) &&
                                 !replace_file(folder.path("b"), std::string(5000, 'x'));
        _exit(was_refused ? 0 : 1);
    }
    int status = -1;
    REQUIRE(waitpid(child, &status, 0) == child);
    CHECK(status == 0);
    CHECK(files_in(folder) == 0);
}

TEST_CASE("whenever the program is killed, the file is the old one or the new one, and none is cut")
{
    const ScratchFolder folder;
    const std::string path = folder.path("kept");
    const std::string one(200'000, '1');
    const std::string two(200'000, '2');
    REQUIRE(replace_file(path, one));
    for (int kill_after = 0; kill_after < 12; ++kill_after) {
        const pid_t child = fork();
        if (child == 0) {
            for (int i = 0;; ++i) {
                (void)replace_file(path, i % 2 == 0 ? two : one);
                (void)write_new_file(folder.path("new"), one);
            }
        }
        std::this_thread::sleep_for(std::chrono::milliseconds{3 + 5 * kill_after});
        kill(child, SIGKILL);
        int status = 0;
        REQUIRE(waitpid(child, &status, 0) == child);
        const std::string now = content(path);
        CHECK((now == one || now == two));
        for (const auto& entry : fs::directory_iterator{folder.path("")})
            if (entry.path().filename().string().starts_with("new"))
                CHECK(content(entry.path()) == one);
    }
}

TEST_CASE("a part that a crash left is removed once it is old, a fresh one may be another's")
{
    const ScratchFolder folder;
    const std::string old_part = folder.file(".kept.aB3xYz.part", "half");
    const std::string fresh_part = folder.file(".kept.qQ7wEr.part", "half");
    const std::string others = folder.file(".other.aB3xYz.part", "half");
    for (const std::string& path : {old_part, others})
        fs::last_write_time(path, fs::last_write_time(path) - std::chrono::hours{1});
    REQUIRE(replace_file(folder.path("kept"), "whole"));
    CHECK_FALSE(fs::exists(old_part));
    CHECK(fs::exists(fresh_part));
    CHECK(fs::exists(others));
}
