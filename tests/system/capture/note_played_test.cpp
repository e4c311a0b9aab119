// What leaves the loudspeaker when a note is played, while the computer has other things to do.

#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstddef>
#include <span>
#include <thread>
#include <vector>

#include "app/audio/sound_ports.h"
#include "tests/system/capture/monitor.h"
#include "tests/system/capture/sound_server.h"
#include "tests/system/capture/watched_coach.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

constexpr SampleRate kRate{48'000.0};
constexpr Seconds kNote{1.5};

// One on every processor, as long as it lives.
class BusyComputer {
public:
    BusyComputer()
    {
        for (unsigned i = 0; i < std::max(1u, std::thread::hardware_concurrency()); ++i)
            threads_.emplace_back([this] {
                while (!done_.load(std::memory_order_relaxed)) {
                }
            });
    }
    ~BusyComputer()
    {
        done_.store(true, std::memory_order_relaxed);
        for (std::thread& thread : threads_) thread.join();
    }
    BusyComputer(const BusyComputer&) = delete;
    BusyComputer& operator=(const BusyComputer&) = delete;

private:
    std::atomic<bool> done_{false};
    std::vector<std::thread> threads_;
};

// Lengths of what sounds without a run of exact zeros; a tone has none of half a millisecond.
std::vector<Seconds> pieces_of(std::span<const float> heard)
{
    constexpr std::size_t kHole = 24;
    std::vector<Seconds> pieces;
    std::size_t begin = 0;
    std::size_t zeros = kHole;
    for (std::size_t i = 0; i < heard.size(); ++i) {
        const bool is_zero = heard[i] == 0.0f;
        if (!is_zero && zeros >= kHole) begin = i;
        zeros = is_zero ? zeros + 1 : 0;
        if (zeros == kHole)
            pieces.push_back(
                duration_of({static_cast<std::int64_t>(i + 1 - kHole - begin)}, kRate));
    }
    return pieces;
}

}  // namespace

TEST_CASE("a note leaves the loudspeaker without a hole while the computer is busy")
{
    SoundServer server;
    const Outcome started = server.start();
    REQUIRE_MESSAGE(started.has_value(), started.error().message);
    const Monitor monitor{server.folder() + "/heard.f32"};
    constexpr int kNotes = 6;
    {
        const BusyComputer busy;
        const SoundPorts ports = make_sound_ports();
        for (int i = 0; i < kNotes; ++i) {
            ports.play_tone({.f0 = frequency_of(kF4), .length = kNote});
            wait(kNote + Seconds{0.8});
            (void)ports.take_news();  // closes what has ended
        }
    }
    const std::vector<Seconds> pieces = pieces_of(monitor.samples());
    CHECK(pieces.size() == kNotes);
    for (const Seconds piece : pieces) CHECK(std::abs((piece - kNote).count()) < 0.001);
}
