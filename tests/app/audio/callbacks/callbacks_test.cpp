// What runs on the audio thread neither allocates nor locks nor calls the system, from its first
// call on; and each of these checks does see what it looks for.

#include <doctest/doctest.h>

#include <pthread.h>
#include <sys/mman.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <cstdlib>
#include <ctime>
#include <mutex>
#include <vector>

#include "app/audio/audio_tap.h"
#include "tests/app/audio/callbacks/library_calls.h"
#include "tests/app/audio/callbacks/sealed.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr unsigned long kFrames = 480;

// All that the callbacks touch, made beforehand as the sound thread does.
struct Streams {
    AudioRing ring{4};
    AudioTap tap{ring, 2};
    ToneFeed whole{std::vector<float>(1000, 0.5f), 2, 480};
    ToneFeed hushed{std::vector<float>(48'000, 0.5f), 2, 480};
    std::vector<float> in = std::vector<float>(2 * kFrames, 0.25f);
    std::vector<float> out = std::vector<float>(2 * kFrames);
    bool is_done{false};
};

// Every way through them: with room in the ring and without, lost samples, none, more than a block
// at a time, silence, the end; a tone to its end, and one that is hushed.
void call_all(Streams& s)
{
    for (int i = 0; i < 20; ++i) {
        capture_callback(s.in.data(), nullptr, kFrames, nullptr, 0, &s.tap);
    }
    capture_callback(s.in.data(), nullptr, kFrames, nullptr, paInputOverflow, &s.tap);
    capture_callback(nullptr, nullptr, kFrames, nullptr, paInputUnderflow, &s.tap);
    AudioBlock block;
    while (s.ring.try_pop(block)) {
    }
    for (float& v : s.in) v = 0.0f;
    capture_callback(s.in.data(), nullptr, kFrames, nullptr, 0, &s.tap);
    capture_ended(&s.tap);
    for (ToneFeed* feed : {&s.whole, &s.hushed}) {
        for (int i = 0; i < 8; ++i) {
            if (feed == &s.hushed && i == 2) feed->hush();
            tone_callback(nullptr, s.out.data(), kFrames, nullptr, 0, feed);
        }
        tone_ended(feed);
    }
    s.is_done = s.tap.lost().value > 0 && s.tap.zeros().value > 0 && s.tap.ended() &&
                s.whole.ended() && s.hushed.ended();
}

// Ends in a system call where something was not gone through, so that the seal would break.
void call_all_sealed(void* streams)
{
    auto& s = *static_cast<Streams*>(streams);
    call_all(s);
    if (!s.is_done) getppid();
}

// A pointer that may change at any time: the compiler has to call what it points to.
void* (*volatile allocate)(std::size_t) = std::malloc;
void (*volatile give_back)(void*) = std::free;

}  // namespace

TEST_CASE("on the audio thread no memory is asked for or given back, and nothing is locked")
{
    Streams streams;
    const LibraryCalls before = library_calls();
    call_all(streams);
    const LibraryCalls made = library_calls() - before;
    CHECK(made == LibraryCalls{});
    CHECK(streams.is_done);
}

TEST_CASE("memory and locks are counted, from C and from C++")
{
    const auto made_by = [](const auto& action) {
        const LibraryCalls before = library_calls();
        action();
        return library_calls() - before;
    };
    CHECK(made_by([] { give_back(allocate(100)); }) == LibraryCalls{.memory = 2});
    CHECK(made_by([] { const std::vector<float> x(100'000); }).memory == 2);
    CHECK(made_by([] {
              void* wide = nullptr;
              if (posix_memalign(&wide, 64, 64) == 0) give_back(wide);
          }).memory == 2);
    std::mutex mutex;
    CHECK(made_by([&] { const std::lock_guard lock{mutex}; }) == LibraryCalls{.locks = 1});
    pthread_rwlock_t shared = PTHREAD_RWLOCK_INITIALIZER;
    CHECK(made_by([&] { pthread_rwlock_wrlock(&shared); }) == LibraryCalls{.locks = 1});
}

TEST_CASE("on the audio thread the system is not called, from the first call on")
{
    Streams streams;
    const SealedEnd end = run_sealed(&call_all_sealed, &streams);
    if (end == SealedEnd::unsealed) {
        MESSAGE("skipped: this kernel does not seal a process");
        return;
    }
    CHECK(end == SealedEnd::returned);
}

TEST_CASE("a call of the system is noticed: the clock, memory, a wait, an allocation too large")
{
    if (run_sealed([](void*) {}, nullptr) == SealedEnd::unsealed) {
        MESSAGE("skipped: this kernel does not seal a process");
        return;
    }
    CHECK(run_sealed([](void*) {}, nullptr) == SealedEnd::returned);
    const auto reads_clock = [](void*) {
        timespec now{};
        syscall(SYS_clock_gettime, CLOCK_MONOTONIC, &now);
    };
    CHECK(run_sealed(reads_clock, nullptr) == SealedEnd::killed);
    const auto maps = [](void*) {
        mmap(nullptr, 4096, PROT_READ, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    };
    CHECK(run_sealed(maps, nullptr) == SealedEnd::killed);
    const auto wakes = [](void* word) { syscall(SYS_futex, word, 1 /* FUTEX_WAKE */, 1); };
    int word = 0;
    CHECK(run_sealed(wakes, &word) == SealedEnd::killed);
    // As large as malloc asks the kernel for (malloc(3): from 128 kB on).
    CHECK(run_sealed([](void*) { allocate(10'000'000); }, nullptr) == SealedEnd::killed);
    std::mutex held;
    held.lock();
    const auto waits = [](void* mutex) { static_cast<std::mutex*>(mutex)->lock(); };
    CHECK(run_sealed(waits, &held) == SealedEnd::killed);
    held.unlock();
}
