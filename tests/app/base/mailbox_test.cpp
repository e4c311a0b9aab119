#include "app/base/mailbox.h"

#include <doctest/doctest.h>

#include <string>
#include <thread>
#include <vector>

using namespace holdwell;

TEST_CASE("a mailbox gives everything once, in the order posted")
{
    Mailbox<std::string> box;
    box.post("one");
    box.post("two");
    CHECK(box.take() == std::vector<std::string>{"one", "two"});
    CHECK(box.take().empty());
}

TEST_CASE("threads: messages posted by one thread reach another complete and in order")
{
    constexpr int kMessages = 100'000;
    Mailbox<int> box;
    std::thread writer{[&box] {
        for (int i = 0; i < kMessages; ++i) box.post(i);
    }};
    int expected = 0;
    bool in_order = true;
    while (expected < kMessages) {
        for (const int message : box.take()) in_order = in_order && message == expected++;
    }
    writer.join();
    CHECK(in_order);
    CHECK(box.take().empty());
}
