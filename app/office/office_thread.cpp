#include "app/office/office_thread.h"

#include <exception>
#include <string>
#include <utility>

namespace holdwell {

OfficeThread::OfficeThread(OfficeSettings settings, Wake wake)
    : wake_{std::move(wake)}, thread_{&OfficeThread::run, this, std::move(settings)}
{
}

OfficeThread::~OfficeThread()
{
    {
        const std::lock_guard lock{mutex_};
        stopping_ = true;
    }
    work_.notify_one();
    thread_.join();
}

void OfficeThread::ask(Request request, RequestNumber number)
{
    requests_.post({number, std::move(request)});
    {
        const std::lock_guard lock{mutex_};
        work_waiting_ = true;
    }
    work_.notify_one();
}

std::vector<Answer> OfficeThread::take_answers() { return answers_.take(); }

namespace {

// Nothing of ours throws, but memory may be short, and libraries may: a practice goes on.
Answer unnumbered(Office& office, const Request& request)
{
    try {
        return office.answer(request);
    } catch (const std::exception& e) {
        return Refused{.sentence = std::string{"The records could not do that ("} + e.what() +
                                   "); what was kept before is unharmed."};
    }
}

Answer answered(Office& office, const Asked& asked)
{
    Answer answer = unnumbered(office, asked.request);
    if (auto* refused = std::get_if<Refused>(&answer)) refused->of = asked.number;
    return answer;
}

}  // namespace

void OfficeThread::run(OfficeSettings settings)
{
    Office office{std::move(settings)};
    bool stopping = false;
    while (!stopping) {
        {
            std::unique_lock lock{mutex_};
            work_.wait(lock, [this] { return work_waiting_ || stopping_; });
            work_waiting_ = false;
            stopping = stopping_;
        }
        for (const Asked& asked : requests_.take()) {
            answers_.post(answered(office, asked));
            if (wake_) wake_();
        }
    }
}

}  // namespace holdwell
