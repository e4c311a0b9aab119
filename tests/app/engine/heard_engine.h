#pragma once
// An engine that hears scripted sounds, and all that it says.

#include <algorithm>
#include <optional>
#include <span>
#include <utility>
#include <variant>
#include <vector>

#include "app/engine/engine.h"
#include "tests/support/signal_script.h"

namespace holdwell::test {

inline constexpr SampleRate kRate{48'000.0};
// Equal temperament from A4 = 440 Hz (ISO 16): 440 * 2^(-4/12) and an octave below.
inline constexpr Hertz kF4Hz{349.228};
inline constexpr Hertz kF3Hz{174.614};

// Of F4, where it has a target.
inline Drill drill_of(DrillKind kind)
{
    Drill drill;
    drill.kind = kind;
    drill.target = kF4;
    return drill;
}

// An engine, what it is fed, and all it said.
class Practice {
public:
    explicit Practice(SampleRate rate = kRate) : engine_{{.sample_rate = rate}} {}

    void tell(const Command& command)
    {
        engine_.apply(command);
        collect();
    }

    void hear(std::span<const float> samples)
    {
        while (!samples.empty()) {
            AudioBlock block;
            block.begin = next_;
            block.count = std::min(samples.size(), AudioBlock::kCapacity);
            std::copy_n(samples.begin(), block.count, block.samples.begin());
            engine_.push(block);
            collect();
            next_ = next_ + SampleCount{static_cast<std::int64_t>(block.count)};
            samples = samples.subspan(block.count);
        }
    }

    void lose(SampleCount n) { next_ = next_ + n; }

    void end_of_stream()
    {
        engine_.finish();
        collect();
    }

    std::optional<ToneRequest> tone() { return engine_.take_tone_request(); }

    template <class T>
    std::vector<T> all() const
    {
        std::vector<T> found;
        for (const Update& u : log_) {
            if (const auto* t = std::get_if<T>(&u)) found.push_back(*t);
        }
        return found;
    }

    std::vector<Stage> stages() const
    {
        std::vector<Stage> found;
        for (const StageChanged& s : all<StageChanged>()) found.push_back(s.stage);
        return found;
    }

    // When a stage was entered first, in seconds of what was heard.
    double entered(Stage stage) const
    {
        double hops = 0.0;
        for (const Update& u : log_) {
            if (std::holds_alternative<FrameHeard>(u)) ++hops;
            const auto* s = std::get_if<StageChanged>(&u);
            if (s && s->stage == stage) return hops * 0.010;
        }
        return -1.0;
    }

private:
    void collect()
    {
        for (Update& u : engine_.take_updates()) log_.push_back(std::move(u));
    }

    Engine engine_;
    SampleIndex next_{};
    std::vector<Update> log_;
};

// In a quiet room, half a second before and a second after.
inline ScriptedTake sung(const Voice& voice, Seconds length)
{
    return SignalScript{kRate, 11}
        .silence(500ms)
        .voice(voice, length)
        .silence(1s)
        .with_noise(NoiseKind::pink, Dbfs{-70.0})
        .build();
}

inline std::vector<float> quiet(Seconds length)
{
    return SignalScript{kRate, 12}
        .silence(length)
        .with_noise(NoiseKind::pink, Dbfs{-70.0})
        .build()
        .samples;
}

inline bool has_stage(const std::vector<Stage>& stages, Stage sought)
{
    return std::ranges::find(stages, sought) != stages.end();
}

inline double seconds(SampleCount n) { return duration_of(n, kRate).count(); }

}  // namespace holdwell::test
