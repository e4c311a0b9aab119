#pragma once
// Messages from one thread to another where a short wait harms nobody: posted one by one, taken
// all at once.

#include <mutex>
#include <utility>
#include <vector>

namespace holdwell {

template <typename T>
class Mailbox {
public:
    // [any, concurrent]
    void post(T message)
    {
        const std::lock_guard lock{mutex_};
        waiting_.push_back(std::move(message));
    }

    // Everything posted since the last call, oldest first. [any, concurrent]
    std::vector<T> take()
    {
        std::vector<T> taken;
        const std::lock_guard lock{mutex_};
        taken.swap(waiting_);
        return taken;
    }

private:
    std::mutex mutex_;
    std::vector<T> waiting_;
};

}  // namespace holdwell
