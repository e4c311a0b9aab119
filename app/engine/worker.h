#pragma once
// One round after another of the live coach, without a thread of its own: takes what was heard to
// the engine, what the person wants to the engine and the sound system, and what happened out
// again.
//
// A stream that is lost ends what is under way, which is kept and reported. When a stream begins
// (the first, or one after a loss) a new engine listens to it and takes up what the person last
// asked for; sample indexes then begin at 0 again, which CaptureChanged{live} announces.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/engine/audio_source.h"
#include "app/engine/engine.h"
#include "app/engine/messages.h"
#include "app/engine/sound_cutter.h"

namespace holdwell {

// What the person last asked for, so that it can be asked again of a new engine.
class StandingOrders {
public:
    void note(const Command& command);
    // A sound check that was answered and a note that was heard are not asked for again; the
    // comfortable voice that was found stays known.
    void note(const Update& update);
    // Another microphone: levels on the one before mean nothing on it.
    void forget_levels() { comfortable_.reset(); }
    std::vector<Command> to_resume() const;

private:
    std::optional<BeginDrill> drill_;
    std::optional<Command> later_;  // what came after the drill and still holds, if anything
    std::optional<UseOnsetThresholds> thresholds_;
    std::optional<UseComfortableLevel> comfortable_;
};

class Worker {
public:
    explicit Worker(SoundPorts ports);

    void apply(const Command& command);

    // Everything that can be done now; never waits. To be called at least every pace().
    void step();

    // Lets the source go; what is under way ends.
    void close();

    // How long the caller may leave it alone: short while samples arrive, long when nothing does.
    Seconds pace() const;

    std::vector<Update> take_updates();

private:
    void hear();
    void watch_source();
    void report(const SourceStatus& status);
    void begin_stream(const SourceStatus& status);
    void pass_on_tone();
    void pass_on_news();
    void collect_from_engine();
    void end_what_is_under_way();
    void open_microphone();
    void play_recording(const std::string& path);
    void choose_microphone(const std::string& name);
    void use(std::unique_ptr<AudioSource> source);
    void use_model(const UseModel& use);

    SoundPorts ports_;
    StandingOrders orders_;
    std::unique_ptr<Engine> engine_;
    std::unique_ptr<AudioSource> source_;
    SoundCutter cutter_;
    std::shared_ptr<const SoundClip> model_;  // played as the note
    std::optional<SourceStatus> shown_;
    std::optional<SourceStatus> heard_from_;  // the stream before this one, or this one
    int stream_{0};                           // the one that engine_ listens to
    std::string chosen_;                      // microphone; empty: the system's own choice
    std::vector<std::string> microphones_;
    std::vector<Update> updates_;
};

}  // namespace holdwell
