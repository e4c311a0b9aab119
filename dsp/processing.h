#pragma once
// Does the system work on the sound before we get it: automatic gain, or suppression of noise?
//
// In:    one FrameReading a hop.
// Out:   which processing was heard, if any. While one is, beginnings cannot be named: both change
//        the first tenths of a second of a voice.
// Delay: up to 4 s after the voice that shows it, 12 s for a slow gain.
// State: a fixed size; push allocates nothing.
//
// The rules. A room does not change because somebody stops singing, so:
//   gain control  "Within a second after the voice the room is 6 dB or more quieter than before it,
//                 and then climbs back smoothly, over 0.4 s or more." The gain was turned down for
//                 the voice and comes up again. Or, where it takes longer than three seconds:
//                 "Twice, after two voices, it dips so and climbs smoothly by 4 dB or more, over a
//                 second or longer."
//   suppression   "Twice, after two voices, the same steady noise goes on for a tenth of a second,
//                 and then falls by 12 dB or more within a tenth of a second to the same lower
//                 level." A gate stays open for a while behind each voice. (A reverberant room
//                 falls evenly; a breath out is not twice the same.) Or: "In the first moments of
//                 the stream, with nobody sounding, a steady room falls by 10 dB or more within two
//                 seconds and stays there." The noise has been learnt, and is being removed.
// That automatic gain and suppression do this is common practice, no source; the figures are ours,
// chosen on simulated processors (tests/dsp/processing_test.cpp). What shows none of these signs is
// not found: a suppressor that lets nothing through; a gain so slow that the voice hardly moves it,
// or that keeps still while nobody sounds: then there is only a voice that grows softer.

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string>

#include "dsp/frame_reading.h"
#include "dsp/units.h"

namespace holdwell {

enum class MicrophoneProcessing { gain_control, noise_suppression };

// What an onset that it touches is said to be: "the microphone's automatic gain changes how ...".
std::string reason_for(MicrophoneProcessing kind);

// A steady noise that stops at once.
struct NoiseStep {
    Dbfs from{};
    Dbfs to{};
};

// Levels of 10 ms hops after a voice. The last such step, if there is one.
std::optional<NoiseStep> noise_step_in(std::span<const float> levels);
// `before`: the room before the voice.
enum class Climb {
    none,
    on_the_way,  // it dips, and has climbed smoothly so far
    back,        // within three seconds
    slowly,      // smoothly by 4 dB or more over a second or longer, whether it is back or not
};
Climb climb_in(std::span<const float> levels, Dbfs before);
// Levels of the hops from the beginning of a stream on, nobody sounding.
bool falls_to_stay(std::span<const float> levels);

class ProcessingWatch {
public:
    // [any]
    void push(const FrameReading& reading) noexcept;
    // Samples were lost: what is being watched is given up.
    void skip() noexcept;
    // From the voice that showed it until three voices have not.
    std::optional<MicrophoneProcessing> heard() const noexcept { return heard_; }

private:
    // Levels of successive hops, as many as there is room for.
    template <std::size_t N>
    struct Levels {
        std::array<float, N> values{};
        std::size_t count{0};
        void push(float level) noexcept
        {
            if (count < N) values[count++] = level;
        }
        bool is_full() const noexcept { return count == N; }
        std::span<const float> all() const noexcept { return {values.data(), count}; }
    };
    static constexpr std::size_t kTail = 1200;
    static constexpr std::size_t kFirstLook = 400;  // at the tail
    static constexpr std::size_t kStart = 400;
    static constexpr std::size_t kQuiet = 160;

    void hear_voice() noexcept;
    void hear_quiet(float level) noexcept;
    std::optional<Dbfs> room_before() const noexcept;
    void judge_tail() noexcept;
    void judge_slow_tail() noexcept;
    void end_tail() noexcept;
    void note(std::optional<MicrophoneProcessing> sign) noexcept;
    void judge_start() noexcept;

    Levels<kStart> start_;
    bool start_judged_{false};
    Levels<kTail> tail_;
    std::array<float, kQuiet> quiet_{};  // ring: the latest hops without a voice
    std::size_t quiet_heard_{0};
    std::optional<Dbfs> before_;  // the voice, the room
    std::optional<NoiseStep> step_;
    bool climbs_{false};          // the tail had its first look, and climbs
    bool climbed_slowly_{false};  // after the last voice
    int voiced_{0};               // hops of the present voice
    int unvoiced_{1000};          // hops since
    int clean_{0};                // voices in a row that showed nothing
    bool was_learning_{false};    // found at the start: nothing later can speak against it
    std::optional<MicrophoneProcessing> heard_;
};

}  // namespace holdwell
