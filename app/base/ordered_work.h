#pragma once
// Work shared out to threads, its results taken in order: result i is ready when every caller of
// take(i) may have it, however the threads raced.

#include <atomic>
#include <condition_variable>
#include <cstddef>
#include <functional>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>
#include <vector>

namespace holdwell {

template <typename Product>
class OrderedWork {
public:
    using Make = std::function<Product(std::size_t)>;

    // Starts at once: make(0) .. make(count - 1) on `threads` threads, each index once.
    OrderedWork(std::size_t count, std::size_t threads, Make make)
        : make_{std::move(make)}, products_(count)
    {
        for (std::size_t i = 0; i < threads; ++i) threads_.emplace_back([this] { run(); });
    }
    ~OrderedWork()
    {
        next_ = products_.size();  // whatever has not begun is left
        for (std::thread& thread : threads_) thread.join();
    }
    OrderedWork(const OrderedWork&) = delete;
    OrderedWork& operator=(const OrderedWork&) = delete;

    // Waits until product `i` is made; each can be taken once. [one thread]
    Product take(std::size_t i)
    {
        std::unique_lock lock{mutex_};
        made_.wait(lock, [&] { return products_[i].has_value(); });
        return *std::exchange(products_[i], std::nullopt);
    }

private:
    void run()
    {
        for (std::size_t i = next_++; i < products_.size(); i = next_++) {
            Product product = make_(i);
            const std::lock_guard lock{mutex_};
            products_[i] = std::move(product);
            made_.notify_all();
        }
    }

    Make make_;
    std::atomic<std::size_t> next_{0};
    std::mutex mutex_;
    std::condition_variable made_;
    std::vector<std::optional<Product>> products_;  // guarded by mutex_; its size never changes
    std::vector<std::thread> threads_;
};

}  // namespace holdwell
