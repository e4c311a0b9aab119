#pragma once
// A live coach whose updates are waited for, with a deadline, and kept.

#include <chrono>
#include <functional>
#include <optional>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include "app/audio/sound_ports.h"
#include "app/engine/live_coach.h"

namespace holdwell::test {

class WatchedCoach {
public:
    WatchedCoach() : coach_{make_sound_ports(), {}} {}

    LiveCoach& coach() { return coach_; }
    const std::vector<Update>& seen() const { return seen_; }

    // Waits until an update that came after `begin_watching` fits; the time it took, or nothing
    // when the deadline passed first.
    std::optional<Seconds> wait_for(const std::function<bool(const Update&)>& fits, Seconds at_most)
    {
        const auto begin = std::chrono::steady_clock::now();
        while (true) {
            for (Update& update : coach_.take_updates()) seen_.push_back(std::move(update));
            const Seconds waited = std::chrono::steady_clock::now() - begin;
            while (watched_ < seen_.size()) {
                if (fits(seen_[watched_++])) return waited;
            }
            if (waited > at_most) return std::nullopt;
            std::this_thread::sleep_for(std::chrono::milliseconds{5});
        }
    }

    std::optional<Seconds> wait_for_state(CaptureState state, Seconds at_most)
    {
        return wait_for(
            [&](const Update& update) {
                const auto* changed = std::get_if<CaptureChanged>(&update);
                if (changed != nullptr && changed->state == state) last_change_ = *changed;
                return changed != nullptr && changed->state == state;
            },
            at_most);
    }

    const CaptureChanged& last_change() const { return last_change_; }

    template <typename Kind>
    std::optional<Kind> first() const
    {
        for (const Update& update : seen_) {
            if (const auto* kind = std::get_if<Kind>(&update)) return *kind;
        }
        return std::nullopt;
    }

private:
    LiveCoach coach_;
    std::vector<Update> seen_;
    std::size_t watched_{0};
    CaptureChanged last_change_;
};

// How long `action` takes.
inline Seconds time_taken(const std::function<void()>& action)
{
    const auto begin = std::chrono::steady_clock::now();
    action();
    return std::chrono::steady_clock::now() - begin;
}

inline void wait(Seconds length) { std::this_thread::sleep_for(length); }

}  // namespace holdwell::test
