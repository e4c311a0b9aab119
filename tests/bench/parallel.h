#pragma once
// Work shared by two threads with results in the order of the work: the same answer every time.

#include <atomic>
#include <thread>
#include <vector>

namespace holdwell::bench {

template <typename Work>
auto results_of(int count, const Work& work)
{
    std::vector<decltype(work(0))> results(static_cast<std::size_t>(count));
    std::atomic<int> next{0};
    const auto run = [&] {
        for (int k = next++; k < count; k = next++) results[static_cast<std::size_t>(k)] = work(k);
    };
    std::thread other{run};
    run();
    other.join();
    return results;
}

}  // namespace holdwell::bench
