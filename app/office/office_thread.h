#pragma once
// The Office on a thread of its own: requests go in, answers come out, in the same order. A slow
// disk then holds up neither the window nor the voice.

#include <condition_variable>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

#include "app/base/mailbox.h"
#include "app/office/office.h"

namespace holdwell {

class OfficeThread {
public:
    // `wake` is called on the office's thread when an answer is waiting. It may be empty.
    using Wake = std::function<void()>;
    OfficeThread(OfficeSettings settings, Wake wake);
    // Everything asked for is done first: nothing that was practised is lost by closing a window.
    ~OfficeThread();
    OfficeThread(const OfficeThread&) = delete;
    OfficeThread& operator=(const OfficeThread&) = delete;

    // A refusal comes back with the number. [any, concurrent]
    void ask(Request request, RequestNumber number = {});
    std::vector<Answer> take_answers();  // [any, concurrent] oldest first

private:
    void run(OfficeSettings settings);  // [office]

    Wake wake_;
    Mailbox<Asked> requests_;
    Mailbox<Answer> answers_;
    std::mutex mutex_;
    std::condition_variable work_;
    bool work_waiting_{false};  // under mutex_
    bool stopping_{false};      // under mutex_
    std::thread thread_;
};

}  // namespace holdwell
