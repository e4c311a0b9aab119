#include "app/engine/ring.h"

#include <doctest/doctest.h>

#include <cstdint>
#include <memory>
#include <thread>

#include "tests/support/allocation_guard.h"

using namespace holdwell;

TEST_CASE("a million numbered blocks pass from one thread to another in order")
{
    constexpr std::int64_t kBlocks = 1'000'000;
    const auto ring = std::make_unique<AudioRing>();
    std::thread producer{[&ring] {
        AudioBlock block;
        for (std::int64_t n = 0; n < kBlocks; ++n) {
            block.begin = {n};
            block.count = 1;
            block.samples[0] = static_cast<float>(n % 8191);
            while (!ring->try_push(block)) std::this_thread::yield();
        }
    }};
    AudioBlock block;
    std::int64_t out_of_order = 0;
    for (std::int64_t n = 0; n < kBlocks; ++n) {
        while (!ring->try_pop(block)) std::this_thread::yield();
        const bool right =
            block.begin.value == n && block.samples[0] == static_cast<float>(n % 8191);
        if (!right) ++out_of_order;
    }
    producer.join();
    CHECK(out_of_order == 0);
    CHECK_FALSE(ring->try_pop(block));
}

TEST_CASE("a full ring refuses the newest block, keeps the others, and allocates nothing")
{
    AudioRing ring{8};
    AudioBlock block;
    std::int64_t accepted = 0;
    const holdwell::test::AllocationGuard guard;
    while (accepted < 10'000) {
        block.begin = {accepted};
        if (!ring.try_push(block)) break;
        ++accepted;
    }
    CHECK(guard.allocations() == 0);
    CHECK(accepted >= 8);
    CHECK(accepted < 10'000);
    for (std::int64_t n = 0; n < accepted; ++n) {
        REQUIRE(ring.try_pop(block));
        CHECK(block.begin.value == n);
    }
    CHECK_FALSE(ring.try_pop(block));
}
