#include "app/engine/ring.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <thread>

#include "tests/support/allocation_guard.h"

using namespace holdwell;

TEST_CASE("threads: a million numbered samples pass from one to another in order")
{
    constexpr std::int64_t kSamples = 1'000'000;  // below 2^24: each is exact as a float
    const auto ring = std::make_unique<AudioRing>();
    std::thread producer{[&ring] {
        AudioBlock block;
        for (std::int64_t n = 0; n < kSamples;) {
            block.begin = {n};
            block.count = static_cast<std::size_t>(std::min(1 + n % 64, kSamples - n));
            for (std::size_t i = 0; i < block.count; ++i) {
                block.samples[i] = static_cast<float>(n++);
            }
            while (!ring->try_push(block)) std::this_thread::yield();
        }
    }};
    AudioBlock block;
    std::int64_t out_of_order = 0;
    for (std::int64_t n = 0; n < kSamples;) {
        while (!ring->try_pop(block)) std::this_thread::yield();
        if (block.begin.value != n) ++out_of_order;
        for (std::size_t i = 0; i < block.count; ++i) {
            if (block.samples[i] != static_cast<float>(n++)) ++out_of_order;
        }
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
    CHECK(accepted == 8);
    for (std::int64_t n = 0; n < accepted; ++n) {
        REQUIRE(ring.try_pop(block));
        CHECK(block.begin.value == n);
    }
    CHECK_FALSE(ring.try_pop(block));
}
