#pragma once
// The live coach as the window and the command line see it: commands go in, updates come out, and
// the thread in between is its own business.
//
//     LiveCoach coach{make_sound_ports(), wake};
//     coach.start();                          // on the microphone last chosen
//     coach.post(BeginDrill{drill});
//     for (const Update& update : coach.take_updates()) view.apply(update);

#include <atomic>
#include <condition_variable>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

#include "app/base/mailbox.h"
#include "app/engine/audio_source.h"
#include "app/engine/messages.h"

namespace holdwell {

class LiveCoach {
public:
    // `wake` is called on the worker's thread when updates are waiting, at most about sixty times a
    // second. It may be empty.
    using Wake = std::function<void()>;

    LiveCoach(SoundPorts ports, Wake wake);
    ~LiveCoach();
    LiveCoach(const LiveCoach&) = delete;
    LiveCoach& operator=(const LiveCoach&) = delete;

    // Begins with `first`: the microphone, or PlayRecording to leave the microphone alone. Once.
    void start(Command first = ReopenMicrophone{});

    // [any, concurrent]
    void post(Command command);

    // Everything since the last call, oldest first. A reader that stays away for more than a minute
    // misses frames (FrameHeard), nothing else. [any, concurrent]
    std::vector<Update> take_updates();

    // What is under way ends and is judged; take_updates() then has the last of it. Returns within
    // a second whatever the sound system does. Also done by the destructor.
    void stop();

private:
    void run();  // [worker]
    void publish(std::vector<Update> updates);
    void wake_if_due();
    bool wait_for_work(Seconds at_most);

    SoundPorts ports_;
    Wake wake_;
    Mailbox<Command> commands_;
    Mailbox<Update> updates_;
    std::atomic<int> frames_waiting_{0};
    bool wake_owed_{false};                              // [worker]
    std::chrono::steady_clock::time_point last_wake_{};  // [worker]
    std::mutex mutex_;
    std::condition_variable work_;
    bool work_waiting_{false};  // under mutex_
    bool stopping_{false};      // under mutex_
    std::thread thread_;
};

}  // namespace holdwell
