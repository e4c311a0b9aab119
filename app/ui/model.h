#pragma once
// All that the window knows: what was heard, what was chosen, which screen is up. Plain state,
// changed by ViewModel alone and read by the functions of present.h.

#include <deque>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/engine/messages.h"
#include "app/practice/guide.h"
#include "app/ui/ear_state.h"
#include "app/ui/events.h"
#include "app/ui/ink_line.h"
#include "app/ui/preferences.h"
#include "app/ui/views.h"
#include "app/ui/words.h"

namespace holdwell {

// Whether the note sounds by itself when a drill begins.
enum class CueAtStart { play, silent };
// What is listened to from the start. A recording is not checked, and no note is played into it.
enum class SoundSource { microphone, recording };

// A person's own, or some to look around in that are thrown away.
enum class RecordsOf { person, example };

// Where the window opens once the cautions have been read.
enum class OpensOn { practice, page };

// A recording that stands in for a client.
struct Demo {
    std::string path;
    Drill drill{};  // what its voice was asked for
};

struct WindowOptions {
    std::vector<Demo> demos{};  // played in turn, then from the first; empty: none to offer
    CueAtStart cue{CueAtStart::play};
    SoundSource source{SoundSource::microphone};
    // Offered among the choices, in this order.
    std::vector<DrillKind> drills{DrillKind::warm_up_hold, DrillKind::ladder_hold,
                                  DrillKind::rising_glide, DrillKind::falling_glide,
                                  DrillKind::s_hold,       DrillKind::z_hold};
    OpensOn opens_on{OpensOn::practice};
    RecordsOf records{RecordsOf::person};
    Seconds rest{6.0};  // after a trial, before the next is listened for; 1 .. 600 s
};

// One hop of a voice, kept until it is known whether a hold has begun with it.
struct VoicedHop {
    SampleIndex at{};
    Hertz f0{};
};

// The hold on the screen: under way, or the last one heard.
struct HoldOnScreen {
    InkLine ink;
    std::optional<UnderWay> under_way;
    std::deque<VoicedHop> before;  // the last second
    Lie lie{Lie::unknown};         // as said in words: it follows the voice slowly
    std::optional<Cents> smoothed;
    Seconds since_change{};
};

// What the last trial came to.
struct LastTrial {
    std::optional<FinishedHold> hold;
    std::optional<Glide> glide;
    std::optional<Seconds> sibilant;
    std::string line;
    std::string advice;                     // what to do about it; empty when there is nothing
    std::vector<Seconds> interruptions_at;  // since the onset
    Onset start;
    int octaves_off{0};
};

struct GlideOnScreen {
    std::vector<std::vector<std::pair<SampleCount, Hertz>>> strokes;  // since the begin
    std::optional<SampleIndex> begin;
    std::optional<SampleIndex> last;
};

struct Microphones {
    std::vector<std::string> names;
    std::string chosen;
    int focused{0};
};

struct Capture {
    CaptureState state{CaptureState::opening};
    std::string device;
    std::string message;
    SampleRate rate{48'000.0};
    SampleCount lost{};
    bool playing_demo{false};
    std::size_t demo{0};  // of the demos, the one that plays, has played or would
};

// The last seconds of the tolerance screen, as deviations.
struct ToleranceTrace {
    std::deque<std::pair<Seconds, std::optional<Cents>>> points;  // stream time
};

struct Model {
    WindowOptions options;
    Preferences preferences;
    Screen screen{Screen::practice};
    Screen below{Screen::practice};  // where help goes back to
    // The screen that a page sent to: leaving that one leads back to the page.
    std::optional<Screen> sent_to;
    int page{0};
    Seen seen;
    enum class Turned { no, just_now, settled } turned{Turned::no};  // of a Screen::page
    bool leaving{false};

    Drill drill;
    int trials_done{0};
    std::map<std::pair<DrillKind, int>, Seconds> longest;

    Capture capture;
    Microphones microphones;
    Stage stage{Stage::paused};
    Seconds now{};  // stream time
    std::optional<FrameReading> reading;
    int meter_lit{0};
    std::optional<Seconds> rest_since;
    std::optional<Seconds> settling_since;  // stream time; absent in every other stage
    std::optional<Seconds> discarded;
    std::optional<SoundCheckFinished> sound_check;

    HoldOnScreen hold;
    GlideOnScreen glide;
    GlideOnScreen previous_glide;
    std::optional<LastTrial> last;
    ToleranceTrace tolerance;
    EarState ear;
    int focused_choice{0};

    // While a guide leads through a plan.
    std::optional<GuideView> guide;
    std::optional<PitchLine> prescribed_line;
    std::string records_notice;  // what could not be kept, and why
};

// By which the band is widened and narrowed.
inline constexpr Cents kBandStep{10.0};

// As the plan says, or else the person.
inline PitchLine pitch_line_of(const Model& model)
{
    return model.prescribed_line.value_or(model.preferences.pitch_line);
}

// The rows of the choices, in order.
enum class Choice { drill, note, band, goal, pitch_line, theme, text_size };
inline constexpr int kChoices = 7;

}  // namespace holdwell
