#include "app/base/ordered_work.h"

#include <doctest/doctest.h>

#include <atomic>

using namespace holdwell;

TEST_CASE("threads: work shared out is taken in order, each piece made once")
{
    constexpr std::size_t kPieces = 2000;
    std::atomic<int> made{0};
    OrderedWork<std::size_t> work{kPieces, 4, [&made](std::size_t i) {
                                      ++made;
                                      return i * i;
                                  }};
    for (std::size_t i = 0; i < kPieces; ++i) REQUIRE(work.take(i) == i * i);
    CHECK(made == kPieces);
}

TEST_CASE("threads: work that nobody takes to its end is left")
{
    std::atomic<int> made{0};
    {
        OrderedWork<int> work{1'000'000, 2, [&made](std::size_t) { return ++made; }};
        work.take(0);
    }
    CHECK(made < 1'000'000);
}
