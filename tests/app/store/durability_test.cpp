// What was said to be kept is there, however the program ended and however full the disk is.

#include <doctest/doctest.h>
#include <sys/resource.h>

#include <algorithm>
#include <thread>

#include "app/store/store.h"
#include "tests/app/files/scratch_folder.h"
#include "tests/app/store/child.h"
#include "tests/app/store/forced_writes.h"
#include "tests/app/store/raw.h"
#include "tests/support/records/random_records.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

// One practice of a life that is cut short: everything in it follows from its number, so that what
// was kept can be drawn again and compared.
constexpr int kTrials = 200;
Practice practice_numbered(int number, const Id& client)
{
    return RandomRecords{static_cast<std::uint64_t>(number)}.practice(client, kTrials);
}

Client the_client() { return RandomRecords{424242}.client(); }

// A killed program leaves what it wrote to the system, on whatever disk: in memory it is killed
// more often in less time. (A lost power supply is another matter: see below.)
class QuickDisk {
public:
    QuickDisk() : path_{folder() / ("holdwell-test-" + std::to_string(::getpid()))}
    {
        std::filesystem::create_directories(path_);
    }
    ~QuickDisk()
    {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    std::string path(const std::string& name) const { return (path_ / name).string(); }

private:
    static std::filesystem::path folder()
    {
        const std::filesystem::path in_memory{"/dev/shm"};
        return std::filesystem::is_directory(in_memory) ? in_memory
                                                        : std::filesystem::temp_directory_path();
    }
    std::filesystem::path path_;
};

// Opens the file and keeps trial after trial, writing one byte for each that it was told is kept.
int practise(const std::string& file, int number, int to_parent)
{
    auto store = Store::open(file);
    if (!store) return 1;
    const Client client = the_client();
    Practice practice = practice_numbered(number, client.id);
    const std::vector<Trial> trials = std::move(practice.trials);
    practice.trials.clear();
    RandomRecords sound{1};
    const std::vector<std::byte> flac = sound.bytes(20'000);  // the journal fills and is emptied
    if (!store.value().keep(client) || !store.value().keep(practice)) return 2;
    for (const Trial& trial : trials) {
        if (!store.value().keep(practice.id, trial)) return 3;
        const char kept = 'k';
        if (::write(to_parent, &kept, 1) != 1) return 4;
        if (!store.value().keep(practice.id, {trial.id, flac}, practice.begun.date)) return 5;
    }
    return 0;
}

// How many of the practice's first `kept` trials are missing or other than they were.
int lost_of(Store& store, int number, std::size_t kept)
{
    const Practice drawn = practice_numbered(number, the_client().id);
    const auto read = store.practice(drawn.id);
    if (!read) return -1;
    const std::vector<Trial> there = read.value() ? read.value()->trials : std::vector<Trial>{};
    int lost = 0;
    for (std::size_t i = 0; i < kept; ++i) {
        const auto found = std::ranges::find(there, drawn.trials[i].id, &Trial::id);
        if (found == there.end() || !same(*found, drawn.trials[i])) ++lost;
    }
    return lost;
}

}  // namespace

TEST_CASE("a program killed at any moment loses no trial that it was told is kept")
{
    constexpr int kKills = 200;
    const QuickDisk scratch;
    const std::string file = scratch.path("records.sqlite");
    Random chance{2026};
    // It is let come so far, however slow the machine is, and then killed at any moment: while it
    // opens the file, while it keeps its first trials, or a few later.
    constexpr double kMostAwaited = 8.0;
    std::size_t kept_in_all = 0;
    int killed_within = 0;
    for (int number = 1; number <= kKills; ++number) {
        CAPTURE(number);
        Child child{[&](int to_parent) { return practise(file, number, to_parent); }};
        const auto awaited = static_cast<std::size_t>(chance.uniform(0.0, kMostAwaited));
        child.wait_until_written(awaited);
        std::this_thread::sleep_for(
            std::chrono::microseconds{static_cast<int>(chance.uniform(0.0, 5'000.0))});
        child.kill();
        CHECK(child.status() <= 0);  // killed, or at its end: never an error of its own
        killed_within += child.status() == -1 ? 1 : 0;
        const std::size_t kept = child.written().size();
        kept_in_all += kept;

        auto store = Store::open(file);
        REQUIRE(store);
        CHECK(lost_of(store.value(), number, kept) == 0);
        if (number % 20 == 0) CHECK(RawDatabase{file}.value("PRAGMA integrity_check") == "ok");
    }
    CHECK(killed_within > kKills / 2);
    CHECK(kept_in_all > 500);
    MESSAGE("killed while at work: ", killed_within, " of ", kKills,
            "; trials told kept: ", kept_in_all, "; lost: 0");
    auto store = Store::open(file);
    for (int number = 1; number <= kKills; ++number)  // nor was any lost by a later kill
        CHECK(lost_of(store.value(), number, 0) == 0);
    CHECK(RawDatabase{file}.value("PRAGMA integrity_check") == "ok");
    CHECK(RawDatabase{file}.run("PRAGMA foreign_key_check").empty());
}

TEST_CASE("each trial that is kept was forced to the disk, so that a lost power supply spares it")
{
    const ScratchFolder scratch;
    auto store = Store::open(scratch.path("records.sqlite"));
    REQUIRE(store);
    Practice practice = practice_numbered(1, the_client().id);
    const std::vector<Trial> trials = std::move(practice.trials);
    practice.trials.clear();
    REQUIRE(store.value().keep(the_client()));
    REQUIRE(store.value().keep(practice));
    for (const Trial& trial : trials) {
        const int before = forced_writes();
        REQUIRE(store.value().keep(practice.id, trial));
        CHECK(forced_writes() == before + 1);  // and once is enough: it is what takes the time
    }
}

// A file size limit stands for a full disk: the system refuses to let the file or its journal grow.
// SQLite reports it as a disk that does not take what it is given, or as a full one.
TEST_CASE(
    "where files cannot grow what was kept stays, and keeping goes on when there is room again")
{
    const ScratchFolder scratch;
    const std::string file = scratch.path("records.sqlite");
    Child child{[&](int to_parent) {
        ::signal(SIGXFSZ, SIG_IGN);
        auto store = Store::open(file);
        const Client client = the_client();
        Practice practice = practice_numbered(1, client.id);
        const std::vector<Trial> trials = std::move(practice.trials);
        practice.trials.clear();
        if (!store || !store.value().keep(client) || !store.value().keep(practice)) return 1;
        rlimit before{};
        ::getrlimit(RLIMIT_FSIZE, &before);
        const rlimit small{400'000, before.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &small);
        std::size_t kept = 0;
        Outcome outcome = Done{};
        for (; kept < trials.size(); ++kept) {
            outcome = store.value().keep(practice.id, trials[kept]);
            if (!outcome) break;
        }
        if (outcome || kept == 0) return 2;
        const auto still = store.value().practice(practice.id);
        if (!still || still.value()->trials.size() != kept) return 3;
        ::setrlimit(RLIMIT_FSIZE, &before);
        for (; kept < trials.size(); ++kept)
            if (!store.value().keep(practice.id, trials[kept])) return 4;
        const std::string said = outcome.error().message;
        return ::write(to_parent, said.data(), said.size()) > 0 ? 0 : 5;
    }};
    CHECK(child.status() == 0);
    CHECK(child.written().find("isk") != std::string::npos);  // "The disk ..."
    auto store = Store::open(file);
    REQUIRE(store);
    CHECK(lost_of(store.value(), 1, kTrials) == 0);
    CHECK(RawDatabase{file}.value("PRAGMA integrity_check") == "ok");
}
