#include "app/cli/coach.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <optional>
#include <utility>

#include "app/cli/coach_lines.h"
#include "app/cli/interrupt.h"
#include "app/cli/look_through.h"
#include "app/cli/phrases.h"
#include "app/engine/engine.h"
#include "app/engine/live_coach.h"
#include "app/files/recording.h"

namespace holdwell {

namespace {

using Clock = std::chrono::steady_clock;

constexpr int kTrialsAtMicrophone = 2;  // each drill twice, as the routine asks
constexpr auto kRest = 6s;              // to breathe and read, before the next trial
constexpr auto kLook = 100ms;           // for Ctrl and C while nothing is heard

void say(const Console& console, const std::vector<std::string>& lines)
{
    for (const std::string& line : lines) console.out << line << std::endl;
}

bool enough(const CoachOptions& options, const CoachLines& lines)
{
    const int at_microphone = options.recording ? 0 : kTrialsAtMicrophone;
    const int wanted = options.trials.value_or(at_microphone);
    return wanted > 0 && lines.trials() >= wanted;
}

// ---- a recording, as fast as it can be read ---------------------------------------------------

AudioBlock next_block(RecordingReader& reader, SampleIndex begin)
{
    AudioBlock block{.begin = begin};
    block.count = reader.read(block.samples);
    return block;
}

// Says what has happened, and listens for the next trial as soon as one is over.
void answer(Engine& engine, CoachLines& lines, const Console& console)
{
    for (const Update& update : engine.take_updates()) {
        say(console, lines.apply(update));
        const auto* stage = std::get_if<StageChanged>(&update);
        if (stage && stage->stage == Stage::finished) engine.apply(ArmTrial{});
    }
}

ExitStatus coach_at_once(const CoachOptions& options, const Console& console)
{
    Result<RecordingReader> opened = RecordingReader::open(*options.recording);
    if (!opened) {
        console.err << printable(opened.error().message) << '\n';
        return ExitStatus::trouble;
    }
    RecordingReader& reader = opened.value();
    const SampleRate rate = reader.format().sample_rate;
    Engine engine{{.sample_rate = rate}};
    CoachLines lines{options.drill};
    say(console, lines.opening());
    say(console, lines.apply(CaptureChanged{.state = CaptureState::live,
                                            .device = name_of_recording(*options.recording),
                                            .message = {},
                                            .sample_rate = rate}));
    engine.apply(BeginDrill{options.drill});
    SampleIndex begin{};
    for (AudioBlock block = next_block(reader, begin); block.count > 0 && !enough(options, lines);
         block = next_block(reader, begin)) {
        engine.push(block);
        begin = begin + SampleCount{static_cast<std::int64_t>(block.count)};
        answer(engine, lines, console);
    }
    engine.finish();
    answer(engine, lines, console);
    say(console, {kRecordingEnded});
    say(console, lines.closing());
    return ExitStatus::ok;
}

// ---- the microphone, or a recording as it sounds -----------------------------------------------

class Conversation {
public:
    Conversation(const CoachOptions& options, const Console& console, SoundPorts ports)
        : options_{options}, console_{console}, lines_{options.drill}, coach_{std::move(ports),
                                                                              [this] { wake(); }}
    {
    }

    ExitStatus run()
    {
        const InterruptWatch watch;
        say(console_, lines_.opening());
        begin();
        while (!over_ && !watch.interrupted()) {
            wait();
            hear(coach_.take_updates());
            if (next_trial_ && Clock::now() >= *next_trial_) begin_next_trial();
        }
        over_ = true;
        coach_.stop();  // a hold under way ends here
        hear(coach_.take_updates());
        if (status_ == ExitStatus::ok) say(console_, lines_.closing());
        return status_;
    }

private:
    void begin()
    {
        if (options_.recording) {
            coach_.post(BeginDrill{options_.drill});
            coach_.start(PlayRecording{*options_.recording});
        } else {
            coach_.start();
        }
    }

    void wake()
    {
        {
            const std::lock_guard lock{mutex_};
            waiting_ = true;
        }
        woken_.notify_one();
    }

    void wait()
    {
        std::unique_lock lock{mutex_};
        woken_.wait_for(lock, kLook, [this] { return waiting_; });
        waiting_ = false;
    }

    void hear(const std::vector<Update>& updates)
    {
        for (std::size_t i = 0; i < updates.size(); ++i) {
            if (passes_at_once(updates, i) || asks_in_vain(updates[i])) continue;
            if (never_began(updates[i])) return give_up(updates[i]);
            say(console_, lines_.apply(updates[i]));
            if (const auto* capture = std::get_if<CaptureChanged>(&updates[i])) notice(*capture);
            if (std::holds_alternative<TrialFinished>(updates[i])) after_trial();
        }
    }

    // A recording that cannot be read ends before it has a sample rate.
    static bool never_began(const Update& update)
    {
        const auto* capture = std::get_if<CaptureChanged>(&update);
        return capture && capture->state == CaptureState::recording_ended &&
               capture->sample_rate.hz <= 0.0;
    }

    void give_up(const Update& update)
    {
        console_.err << printable(std::get<CaptureChanged>(update).message) << '\n';
        over_ = true;
        status_ = ExitStatus::trouble;
    }

    // A stage that has already given way to the next is not worth a line.
    static bool passes_at_once(const std::vector<Update>& updates, std::size_t i)
    {
        return std::holds_alternative<StageChanged>(updates[i]) && i + 1 < updates.size() &&
               std::holds_alternative<StageChanged>(updates[i + 1]);
    }

    // What to do next, before anything listens or when nothing does any more.
    bool asks_in_vain(const Update& update) const
    {
        return std::holds_alternative<StageChanged>(update) && (over_ || !listening_);
    }

    void notice(const CaptureChanged& capture)
    {
        listening_ = capture.state == CaptureState::live || capture.state == CaptureState::muted;
        const bool at_microphone = !options_.recording;
        if (at_microphone && capture.state == CaptureState::live && !std::exchange(begun_, true)) {
            coach_.post(BeginDrill{options_.drill});
            if (options_.cue == Cue::play_note) coach_.post(HearNote{});
        }
        if (capture.state == CaptureState::recording_ended) over_ = true;
        if (capture.state == CaptureState::no_device && !begun_) without_microphone();
    }

    void without_microphone()
    {
        console_.out << "To see how it works, play a recording: holdwell coach --file FILE"
                     << std::endl;
        over_ = true;
        status_ = ExitStatus::trouble;
    }

    void after_trial()
    {
        if (enough(options_, lines_))
            over_ = true;
        else if (options_.recording)
            coach_.post(ArmTrial{});
        else
            next_trial_ = Clock::now() + kRest;
    }

    void begin_next_trial()
    {
        next_trial_.reset();
        if (options_.cue == Cue::play_note)
            coach_.post(HearNote{});
        else
            coach_.post(ArmTrial{});
    }

    const CoachOptions& options_;
    const Console& console_;
    CoachLines lines_;
    std::mutex mutex_;
    std::condition_variable woken_;
    bool waiting_{false};  // under mutex_
    bool listening_{false};
    bool begun_{false};
    bool over_{false};
    ExitStatus status_{ExitStatus::ok};
    std::optional<Clock::time_point> next_trial_;
    LiveCoach coach_;  // last: its thread calls wake()
};

}  // namespace

ExitStatus coach(const CoachOptions& options, const Console& console,
                 const MakeSoundPorts& make_sound_ports)
{
    const Soundness recording =
        options.recording ? look_through(*options.recording, console) : Soundness::whole;
    if (recording == Soundness::unusable) return ExitStatus::trouble;
    if (options.pace == Pace::fast) return status_after(recording, coach_at_once(options, console));
    if (!make_sound_ports) {
        console.err << "holdwell coach: this copy was built without sound\n";
        return ExitStatus::trouble;
    }
    return status_after(recording, Conversation{options, console, make_sound_ports()}.run());
}

}  // namespace holdwell
