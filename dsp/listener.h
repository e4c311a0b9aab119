#pragma once
// From samples to results: cuts any stream into hops, reads each, and times what is sung.
//
// The window, the command line and the tests all listen through this class. It knows no thread,
// clock or file: time is the sample index, and the same samples always give the same results,
// in whatever blocks they arrive.

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "dsp/analysis_config.h"
#include "dsp/frame_reading.h"
#include "dsp/hold.h"

namespace holdwell {

struct OnsetThresholds;           // dsp/onset.h
enum class MicrophoneProcessing;  // dsp/processing.h

enum class Sought { any, hold, s_hold, z_hold, glide_up, glide_down };

// What is listened for, and how it is judged.
struct ListeningTask {
    Sought sought{Sought::any};
    std::optional<Hertz> target{};  // absent: deviation and time in band are absent too
    Cents band{100.0};              // 1 .. 1200, to each side
    Seconds bridge{300ms};          // 0 .. 2 s; a shorter gap is an interruption
    Seconds shortest{1.0};          // 0.1 .. 60 s; anything shorter is left out
};

// A hold (or glide, or /s/) that has begun and not ended.
struct UnderWay {
    SampleIndex onset{};
    Seconds so_far{};   // onset to the last sounding frame
    Seconds in_band{};  // 0 without a target
    int interruptions{0};
    std::optional<Onset> start{};  // once it is known how it began
    int octaves_off{0};
};

// What ended since the last call of take_finished(), in order of onset.
struct Heard {
    std::vector<Hold> holds;
    std::vector<Sibilant> s_holds;
    std::vector<Sibilant> z_holds;
    std::vector<Glide> glides;
};

class Listener {
public:
    Listener(const AnalysisConfig& config, const ListeningTask& task);
    ~Listener();
    Listener(Listener&&) noexcept;
    Listener& operator=(Listener&&) noexcept;

    // Mono samples, any number; `on_reading` is called once for every hop they complete. [any]
    using OnReading = std::function<void(const FrameReading&)>;
    void push(std::span<const float> samples, const OnReading& on_reading = {});

    // So many samples were lost: what is under way is marked, and time goes on. [any]
    void skip(SampleCount lost);

    // The stream is over: what is under way ends. [any]
    void finish();

    // Starts on another task; the room as learnt so far is kept. [any]
    void begin_task(const ListeningTask& task);

    // Names beginnings by these from now on. [any]
    void use(const OnsetThresholds& thresholds);
    // What the system does to the sound, as far as it can be heard; beginnings are unsure then.
    std::optional<MicrophoneProcessing> processing() const;

    std::optional<UnderWay> under_way() const;
    Heard take_finished();
    // The next sample's index.
    SampleIndex position() const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace holdwell
