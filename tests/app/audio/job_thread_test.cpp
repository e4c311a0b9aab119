#include "app/audio/job_thread.h"

#include <doctest/doctest.h>

#include <chrono>
#include <future>
#include <memory>
#include <vector>

using namespace holdwell;

TEST_CASE("threads: jobs are done in the order in which they were posted, all before the end")
{
    auto done = std::make_shared<std::vector<int>>();
    {
        JobThread thread;
        for (int i = 0; i < 100; ++i) thread.post([done, i] { done->push_back(i); });
    }
    REQUIRE(done->size() == 100);
    for (int i = 0; i < 100; ++i) CHECK((*done)[static_cast<std::size_t>(i)] == i);
}

TEST_CASE("threads: a job that hangs holds up the end for less than a second")
{
    auto release = std::make_shared<std::promise<void>>();
    auto ended = std::make_shared<std::promise<void>>();
    std::future<void> really_ended = ended->get_future();
    const auto begin = std::chrono::steady_clock::now();
    {
        JobThread thread;
        thread.post([hang = release->get_future().share(), ended] {
            hang.wait();
            ended->set_value();
        });
    }
    CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds{1});
    release->set_value();
    CHECK(really_ended.wait_for(std::chrono::seconds{5}) == std::future_status::ready);
}
