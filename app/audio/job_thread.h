#pragma once
// A thread that does jobs in the order they were posted, for calls that may hang: opening and
// closing a device block for as long as a frozen sound server pleases.

#include <condition_variable>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>

#include "dsp/units.h"

namespace holdwell {

class JobThread {
public:
    JobThread();
    // Waits for the jobs posted so far, but no longer than kPatience: then the thread is left
    // behind. A job must therefore own all that it touches.
    ~JobThread();
    JobThread(const JobThread&) = delete;
    JobThread& operator=(const JobThread&) = delete;

    // [any, concurrent]
    void post(std::function<void()> job);

    static constexpr Seconds kPatience{0.6};

private:
    struct Shared {
        std::mutex mutex;
        std::condition_variable changed;
        std::deque<std::function<void()>> jobs;
        bool closing{false};
        bool finished{false};
    };
    static void run(const std::shared_ptr<Shared>& shared);

    std::shared_ptr<Shared> shared_;
};

}  // namespace holdwell
