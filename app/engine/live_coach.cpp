#include "app/engine/live_coach.h"

#include <algorithm>
#include <exception>
#include <string>
#include <utility>

#include "app/engine/worker.h"

namespace holdwell {

namespace {

constexpr Seconds kBetweenWakes{1.0 / 60.0};
constexpr int kMostFramesWaiting = 6000;  // a minute of 10 ms hops

}  // namespace

LiveCoach::LiveCoach(SoundPorts ports, Wake wake) : ports_{std::move(ports)}, wake_{std::move(wake)}
{
}

LiveCoach::~LiveCoach() { stop(); }

void LiveCoach::start(Command first)
{
    commands_.post(std::move(first));
    thread_ = std::thread{[this] { run(); }};
}

void LiveCoach::post(Command command)
{
    commands_.post(std::move(command));
    {
        const std::lock_guard lock{mutex_};
        work_waiting_ = true;
    }
    work_.notify_one();
}

std::vector<Update> LiveCoach::take_updates()
{
    frames_waiting_.store(0, std::memory_order_relaxed);  // a count to bound memory, no more
    return updates_.take();
}

void LiveCoach::stop()
{
    {
        const std::lock_guard lock{mutex_};
        stopping_ = true;
    }
    work_.notify_one();
    if (thread_.joinable()) thread_.join();
    ports_ = {};
}

void LiveCoach::run()
{
    try {
        Worker worker{ports_};
        do {
            for (const Command& command : commands_.take()) worker.apply(command);
            worker.step();
            publish(worker.take_updates());
            wake_if_due();
        } while (
            wait_for_work(wake_owed_ ? std::min(worker.pace(), kBetweenWakes) : worker.pace()));
        worker.close();
        publish(worker.take_updates());
    } catch (const std::exception& e) {
        const std::string reason = e.what();
        publish({CaptureChanged{.state = CaptureState::lost,
                                .device = {},
                                .message = "Listening has stopped (" + reason +
                                           "); please close the coach and start it again.",
                                .sample_rate = {}}});
        if (wake_) wake_();
    }
}

void LiveCoach::publish(std::vector<Update> updates)
{
    for (Update& update : updates) {
        if (std::holds_alternative<FrameHeard>(update) &&
            frames_waiting_.fetch_add(1, std::memory_order_relaxed) >= kMostFramesWaiting) {
            continue;
        }
        updates_.post(std::move(update));
        wake_owed_ = true;
    }
}

void LiveCoach::wake_if_due()
{
    const auto now = std::chrono::steady_clock::now();
    if (!wake_owed_ || now - last_wake_ < kBetweenWakes) return;
    wake_owed_ = false;
    last_wake_ = now;
    if (wake_) wake_();
}

bool LiveCoach::wait_for_work(Seconds at_most)
{
    std::unique_lock lock{mutex_};
    work_.wait_for(lock, at_most, [this] { return work_waiting_ || stopping_; });
    work_waiting_ = false;
    return !stopping_;
}

}  // namespace holdwell
