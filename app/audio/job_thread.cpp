#include "app/audio/job_thread.h"

#include <thread>
#include <utility>

namespace holdwell {

JobThread::JobThread() : shared_{std::make_shared<Shared>()}
{
    std::thread{[shared = shared_] { run(shared); }}.detach();
}

JobThread::~JobThread()
{
    std::unique_lock lock{shared_->mutex};
    shared_->closing = true;
    shared_->changed.notify_all();
    shared_->changed.wait_for(lock, kPatience, [this] { return shared_->finished; });
}

void JobThread::post(std::function<void()> job)
{
    const std::lock_guard lock{shared_->mutex};
    shared_->jobs.push_back(std::move(job));
    shared_->changed.notify_all();
}

void JobThread::run(const std::shared_ptr<Shared>& shared)
{
    std::unique_lock lock{shared->mutex};
    while (true) {
        shared->changed.wait(lock, [&] { return shared->closing || !shared->jobs.empty(); });
        if (shared->jobs.empty()) break;
        std::function<void()> job = std::move(shared->jobs.front());
        shared->jobs.pop_front();
        lock.unlock();
        job();
        job = nullptr;  // what it owned goes while nobody waits for the lock
        lock.lock();
    }
    shared->finished = true;
    shared->changed.notify_all();
}

}  // namespace holdwell
