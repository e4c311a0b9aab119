// Opening a file: its modes, and what is refused in which words.

#include <doctest/doctest.h>
#include <sys/stat.h>

#include <chrono>
#include <fstream>

#include "app/store/store.h"
#include "tests/app/files/scratch_folder.h"
#include "tests/app/store/child.h"
#include "tests/app/store/raw.h"
#include "tests/support/records/random_records.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

namespace fs = std::filesystem;

unsigned mode_of(const fs::path& path)
{
    struct stat status {};
    REQUIRE(::stat(path.c_str(), &status) == 0);
    return status.st_mode & 07777U;
}

std::string message_of(const Result<Store>& opened)
{
    REQUIRE_FALSE(opened);
    return opened.error().message;
}

bool contains(const std::string& text, const char* part)
{
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE(
    "the file and its journal are readable by their owner alone, and so is a folder made for them")
{
    const ScratchFolder scratch;
    const fs::path folder = scratch.path("data/holdwell");
    const fs::path file = folder / "records.sqlite";
    const mode_t before = ::umask(0);  // the most generous one
    auto store = Store::open(file);
    REQUIRE(store);
    REQUIRE(store.value().keep(RandomRecords{1}.client()));
    CHECK(mode_of(folder) == 0700U);
    CHECK(mode_of(scratch.path("data")) == 0700U);
    CHECK(mode_of(file) == 0600U);
    CHECK(mode_of(file.string() + "-wal") == 0600U);
    CHECK(mode_of(file.string() + "-shm") == 0600U);
    ::umask(before);
}

TEST_CASE("a file that was open to others is closed to them")
{
    const ScratchFolder scratch;
    const std::string file = scratch.path("records.sqlite");
    REQUIRE(Store::open(file));
    fs::permissions(file, fs::perms::all);
    REQUIRE(Store::open(file));
    CHECK(mode_of(file) == 0600U);
}

TEST_CASE("a file of a newer version is refused politely and left as it was")
{
    const ScratchFolder scratch;
    const std::string file = scratch.path("records.sqlite");
    REQUIRE(Store::open(file));
    RawDatabase{file}.run("PRAGMA user_version = 9");
    RawDatabase{file}.run("PRAGMA wal_checkpoint(TRUNCATE)");
    const std::string before = bytes_of(file);
    const std::string message = message_of(Store::open(file));
    CHECK(contains(message, "newer Holdwell"));
    CHECK(contains(message, "version 9"));
    CHECK(contains(message, file.c_str()));
    CHECK(bytes_of(file) == before);
    CHECK(contains(message_of(Store::open_to_read(file)), "newer Holdwell"));
}

TEST_CASE("a database of another program is left alone")
{
    const ScratchFolder scratch;
    const std::string file = scratch.path("records.sqlite");
    RawDatabase{file}.run("CREATE TABLE music (title TEXT)");
    const std::string before = bytes_of(file);
    CHECK(contains(message_of(Store::open(file)), "another program"));
    CHECK(bytes_of(file) == before);
}

TEST_CASE("a file that is no database is left alone and said to be damaged")
{
    const ScratchFolder scratch;
    const std::string letter = std::string(5000, 'x');
    const std::string file = scratch.file("records.sqlite", letter);
    CHECK(contains(message_of(Store::open(file)), "damaged"));
    CHECK(bytes_of(file) == letter);
}

TEST_CASE("an empty file, as a crash at the very first start leaves it, becomes records")
{
    const ScratchFolder scratch;
    auto store = Store::open(scratch.file("records.sqlite", ""));
    REQUIRE(store);
    CHECK(store.value().keep(RandomRecords{2}.client()));
}

TEST_CASE("a word that stands for nothing is said to be damage")
{
    const ScratchFolder scratch;
    const std::string file = scratch.path("records.sqlite");
    auto store = Store::open(file);
    REQUIRE(store);
    const Client client = RandomRecords{3}.client();
    REQUIRE(store.value().keep(client));
    RawDatabase{file}.run("UPDATE client SET since_date = '3rd of May'");
    const auto read = store.value().client_file(client.id);
    REQUIRE_FALSE(read);
    CHECK(contains(read.error().message, "damaged"));
    CHECK(contains(read.error().message, "3rd of May"));
}

TEST_CASE("the tables refuse what no program of ours writes")
{
    const ScratchFolder scratch;
    const std::string file = scratch.path("records.sqlite");
    auto store = Store::open(file);
    REQUIRE(store.value().keep(RandomRecords{4}.client()));
    CHECK(contains(RawDatabase{file}.value("UPDATE client SET standing = 'gone'"), "CHECK"));
    CHECK(contains(RawDatabase{file}.value("UPDATE client SET keeps_audio = 'yes'"), "TEXT"));
}

TEST_CASE("records in a folder that cannot be written can still be read, and why they cannot be "
          "written is said")
{
    const ScratchFolder scratch;
    const fs::path folder = scratch.path("locked");
    const fs::path file = folder / "records.sqlite";
    const Client client = RandomRecords{5}.client();
    {
        auto store = Store::open(file);
        REQUIRE(store);
        REQUIRE(store.value().keep(client));
    }
    give_to_ordinary(file.string());
    give_to_ordinary(folder.string());
    fs::permissions(file, fs::perms::owner_read);
    fs::permissions(folder, fs::perms::owner_read | fs::perms::owner_exec);

    Child child{[&](int to_parent) {
        become_ordinary();
        const auto writing = Store::open(file);
        auto reading = Store::open_to_read(file);
        if (writing || !reading) return 1;
        const auto read = reading.value().client_file(client.id);
        if (!read || !read.value() || !same(read.value()->client, client)) return 2;
        const Outcome kept = reading.value().keep(client);
        if (kept) return 3;
        const std::string said = writing.error().message + "\n" + kept.error().message;
        return ::write(to_parent, said.data(), said.size()) > 0 ? 0 : 4;
    }};
    CHECK(child.status() == 0);
    const std::string said = child.written();
    CHECK(contains(said, "cannot be written"));
    CHECK(contains(said, "read-only"));
    fs::permissions(folder, fs::perms::owner_all);
}

TEST_CASE("a folder that cannot be made is said")
{
    const ScratchFolder scratch;
    scratch.file("taken", "a file where a folder should be");
    const std::string message = message_of(Store::open(scratch.path("taken/in/records.sqlite")));
    CHECK(contains(message, "cannot be written"));
    CHECK(contains(message, "taken"));
}

TEST_CASE("two programs with the same records open see each other's changes")
{
    const ScratchFolder scratch;
    const std::string file = scratch.path("records.sqlite");
    auto window = Store::open(file);
    auto terminal = Store::open(file);
    REQUIRE(window);
    REQUIRE(terminal);
    RandomRecords records{6};
    const Client client = records.client();
    REQUIRE(window.value().keep(client));
    const Practice practice = records.practice(client.id, 2);
    REQUIRE(terminal.value().keep(practice));
    REQUIRE(window.value().keep(practice.id, records.trial(3)));
    const auto read = terminal.value().practice(practice.id);
    REQUIRE(read.value());
    CHECK(read.value()->trials.size() == 3);
}

TEST_CASE("a program that keeps writing makes another one wait, and then say so")
{
    const ScratchFolder scratch;
    const std::string file = scratch.path("records.sqlite");
    auto store = Store::open(file);
    REQUIRE(store);
    const Client client = RandomRecords{7}.client();
    RawDatabase other{file};
    other.run("BEGIN IMMEDIATE");
    const auto begun = std::chrono::steady_clock::now();
    const Outcome kept = store.value().keep(client);
    const auto waited = std::chrono::steady_clock::now() - begun;
    REQUIRE_FALSE(kept);
    CHECK(contains(kept.error().message, "Another program"));
    CHECK(waited >= kPatience - std::chrono::milliseconds{100});
    CHECK(waited < kPatience + std::chrono::seconds{5});
    CHECK(store.value().clients().value().empty());  // reading never waits
    other.run("COMMIT");
    CHECK(store.value().keep(client));
}
