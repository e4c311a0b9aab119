// store_speed FILE [CLIENTS]: fills FILE with three years of so many clients (1000 unless said
// otherwise), or takes it as it is when it is there, and prints how long the records take. The file
// of 1000 clients is about 15 GB.
//
// Cold: the system was asked to forget what it holds of the file. Warm: asked again.

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "app/practice/progress.h"
#include "app/store/store.h"
#include "tests/bench/store/copied_clients.h"
#include "tests/bench/store/years.h"
#include "tests/support/random.h"

using namespace holdwell;
using namespace holdwell::bench;

namespace {

namespace fs = std::filesystem;
using Milliseconds = std::chrono::duration<double, std::milli>;

// By the clock on the wall, and of the processor's: they differ by what the disk and other programs
// take.
struct Taken {
    Milliseconds wall{};
    Milliseconds processor{};
};

Milliseconds processor_time()
{
    timespec now{};
    ::clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return std::chrono::seconds{now.tv_sec} + std::chrono::nanoseconds{now.tv_nsec};
}

Taken time_of_work(const std::function<void()>& work)
{
    const auto begun = std::chrono::steady_clock::now();
    const Milliseconds processor = processor_time();
    work();
    return {std::chrono::steady_clock::now() - begun, processor_time() - processor};
}

double median_of(std::vector<double> values)
{
    std::ranges::sort(values);
    return values[values.size() / 2];
}

void print(const char* what, const std::vector<Taken>& times)
{
    std::vector<double> wall, processor;
    for (const Taken& taken : times) {
        wall.push_back(taken.wall.count());
        processor.push_back(taken.processor.count());
    }
    std::ranges::sort(wall);
    const std::size_t last = wall.size() - 1;
    fmt::print("{:44} n {:4}  median {:8.2f}  95 % {:8.2f}  most {:8.2f} ms;  processor {:8.2f}\n",
               what, wall.size(), median_of(wall), wall[last * 95 / 100], wall[last],
               median_of(processor));
    std::fflush(stdout);
}

[[noreturn]] void fail(const std::string& message)
{
    fmt::print(stderr, "store_speed: {}\n", message);
    std::exit(1);
}

void must(const Outcome& outcome)
{
    if (!outcome) fail(outcome.error().message);
}

Store opened(const fs::path& file)
{
    auto store = Store::open(file);
    if (!store) fail(store.error().message);
    return std::move(store.value());
}

void forget(const fs::path& file)
{
    for (const char* ending : {"", "-wal"}) {
        const int descriptor = ::open((file.string() + ending).c_str(), O_RDONLY | O_CLOEXEC);
        if (descriptor < 0) continue;
        ::fdatasync(descriptor);  // only what is written can be forgotten
        (void)::posix_fadvise(descriptor, 0, 0, POSIX_FADV_DONTNEED);
        ::close(descriptor);
    }
}

// The first clients are kept by the store itself.
constexpr int kDrawn = 20;

void draw(const fs::path& file, int clients)
{
    Store store = opened(file);
    for (int client = 1; client <= clients; ++client) must(store.keep(three_years_of(client)));
}

void fill(const fs::path& file, int clients)
{
    const Taken taken = time_of_work([&] {
        draw(file, std::min(clients, kDrawn));
        if (clients > kDrawn) {
            const auto copied = copy_clients(file, kDrawn, clients);
            if (!copied) fail(copied.error().message);
        }
    });
    fmt::print("filled with {} clients in {:.0f} s\n", clients, taken.wall.count() / 1000.0);
}

std::vector<Id> some_of(Store& store, std::size_t count)
{
    const auto clients = store.clients();
    if (!clients) fail(clients.error().message);
    std::vector<Id> ids;
    test::Random random{7};
    for (std::size_t i = 0; i < count; ++i) {
        const int any = random.below(static_cast<int>(clients.value().size()));
        ids.push_back(clients.value()[static_cast<std::size_t>(any)].id);
    }
    return ids;
}

ClientFile file_of(Store& store, const Id& client)
{
    auto file = store.client_file(client);
    if (!file || !file.value()) fail("a client is missing");
    return std::move(*file.value());
}

void time_opening(const fs::path& file)
{
    constexpr std::size_t kClients = 20;
    std::vector<Taken> cold, warm, reckoned;
    Store chooser = opened(file);
    for (const Id& client : some_of(chooser, kClients)) {
        forget(file);
        Store store = opened(file);
        cold.push_back(time_of_work([&] { (void)file_of(store, client); }));
        ClientFile read;
        warm.push_back(time_of_work([&] { read = file_of(store, client); }));
        Progress progress;
        reckoned.push_back(
            time_of_work([&] { progress = progress_of(read, whole_record(read, kLastDay)); }));
        if (progress.trials < kTrialsAClient) fail("trials are missing");
    }
    print("opening a client's three years, cold", cold);
    print("opening a client's three years, warm", warm);
    print("  reckoning her progress from them", reckoned);
}

void time_roster(const fs::path& file)
{
    std::vector<Taken> cold, warm;
    for (int i = 0; i < 5; ++i) {
        forget(file);
        Store store = opened(file);
        cold.push_back(time_of_work([&] { (void)store.roster(kLastDay); }));
        for (int again = 0; again < 3; ++again)
            warm.push_back(time_of_work([&] { (void)store.roster(kLastDay); }));
    }
    print("the roster of all clients, cold", cold);
    print("the roster of all clients, warm", warm);
}

void time_trials(const fs::path& file)
{
    constexpr std::size_t kTrials = 500;
    Store store = opened(file);
    std::vector<Id> practices;
    for (const Id& client : some_of(store, 10))
        practices.push_back(file_of(store, client).practices.back().id);
    forget(file);
    std::vector<Taken> times;
    for (std::size_t i = 0; i < kTrials; ++i) {
        const Trial trial = one_more_trial(i);
        times.push_back(
            time_of_work([&] { must(store.keep(practices[i % practices.size()], trial)); }));
    }
    print("storing one trial (on disk when it returns)", times);
}

// What the disk alone takes: the same number of bytes as a stored trial, forced down.
void time_disk(const fs::path& file)
{
    const std::string beside = file.string() + "-disk";
    const int descriptor = ::open(beside.c_str(), O_WRONLY | O_CREAT | O_CLOEXEC, 0600);
    const std::array<char, 20'000> bytes{};
    std::vector<Taken> times;
    for (int i = 0; i < 500; ++i)
        times.push_back(time_of_work([&] {
            if (::write(descriptor, bytes.data(), bytes.size()) < 0) fail("the disk is full");
            ::fdatasync(descriptor);
        }));
    ::close(descriptor);
    fs::remove(beside);
    print("  of this the disk: 20 kB and fdatasync", times);
}

void time_additions(const fs::path& file)
{
    Store store = opened(file);
    const Additions more = three_years_of(1'000'001);
    const Taken kept = time_of_work([&] { must(store.keep(more)); });
    const Taken gone = time_of_work([&] { must(store.remove_client(more.client.id)); });
    print("taking in one more client's three years", {kept});
    print("deleting her again, overwritten on disk", {gone});
}

}  // namespace

int main(int count, char** words)
{
    if (count < 2) fail("which file?");
    const fs::path file{words[1]};
    const int clients = count > 2 ? std::atoi(words[2]) : 1000;
    if (!fs::exists(file)) fill(file, clients);
    fmt::print("{:.2f} GB\n", static_cast<double>(fs::file_size(file)) / 1e9);
    time_opening(file);
    time_roster(file);
    time_trials(file);
    time_disk(file);
    time_additions(file);
    return 0;
}
