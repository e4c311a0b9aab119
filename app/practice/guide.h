#pragma once
// The routine of one practice, hands free: posture, a quick sound check, then every trial of the
// plan with its note and its rest, then two questions. What happened goes in, what to show and what
// to do about it come out.
//
// Pure: no clock, thread or window. Time is what the microphone's stream has passed, so that it
// stands still while there is no microphone. The same events give the same practice.
//
//   posture -> sound check -> [ cue -> listening -> sounding -> resting ] for each trial -> rating
//
// from all of which one can pause, stop early, or lose the microphone, and come back. A trial that
// was heard is kept exactly once, whatever keys are pressed; the next one begins only when it is.
// One that sounds like a machine's (a telephone, an alarm) is not kept, and asked for again, unless
// she says with Enter that it was hers.

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "app/practice/plan.h"
#include "app/practice/records.h"

namespace holdwell {

// ---- what it is made from ----------------------------------------------------------------------

struct GuideSetup {
    std::vector<PlannedTrial> trials{};  // in order: trials_of(plan), or baseline_trials()
    Seconds rest{15.0};                  // after a maximal hold
    NoteCue cue{NoteCue::played};
    std::vector<Trial> already{};  // kept before an interruption, in order of number
    // A recording is not checked, and does not wait to be shown how to stand.
    enum class Opening { posture_and_check, at_once } opening{Opening::posture_and_check};
};
GuideSetup guide_setup_of(const Plan& plan, std::vector<Trial> already);

// Three quiet /s/ and, when asked for, three /z/: the best of three is the baseline.
enum class BaselineSounds { s, s_and_z };
GuideSetup baseline_setup(BaselineSounds sounds);

// ---- what it is told ---------------------------------------------------------------------------

struct StreamAdvanced {  // since the last one; of one stream
    Seconds by{};
};
enum class CheckPart { room, voice };
struct CheckAsksFor {
    CheckPart part{CheckPart::room};
};
struct CheckDone {
    SoundCheckSummary summary;
    std::string advice;  // one sentence when something could be better; else empty
};
struct NoteBegan {};
struct ListeningBegan {};  // the note has ended: it is her turn
struct VoiceBegan {};
struct VoiceTooShort {};
struct TrialHeard {
    Drill drill;  // that it was listened for
    Measures measures;
};
struct TrialStored {};
struct TrialImpossible {
    std::string sentence;  // why it cannot be done here, and what to do
};
struct MicrophoneGone {};
struct MicrophoneBack {};
struct RatingGiven {};  // or left out: the practice is closed
enum class GuideKey {
    go_on,  // Enter: begin, once more, or on with it
    pause,  // Space
    skip,   // N
    stop,   // Escape; asks once
    hurts,  // after it has asked: stop because something hurts or feels wrong
};
using GuideEvent = std::variant<StreamAdvanced, CheckAsksFor, CheckDone, NoteBegan, ListeningBegan,
                                VoiceBegan, VoiceTooShort, TrialHeard, TrialStored, TrialImpossible,
                                MicrophoneGone, MicrophoneBack, RatingGiven, GuideKey>;

// ---- what it wishes ----------------------------------------------------------------------------

struct CheckSoundNow {};
struct BeginTrial {
    Drill drill;
    NoteCue cue{NoteCue::played};
};
struct StopListening {};
// To be made durable; answered by TrialStored. Its id is given by whoever keeps it.
struct StoreTrial {
    Trial trial;
};
struct AskForRating {};
using GuideWish = std::variant<CheckSoundNow, BeginTrial, StopListening, StoreTrial, AskForRating>;

// ---- what it shows -----------------------------------------------------------------------------

enum class GuidePhase {
    posture,
    sound_check,
    cue,        // the note sounds
    listening,  // her turn
    sounding,
    resting,  // what was heard is shown; the next trial comes by itself
    paused,
    asks_to_stop,
    no_microphone,
    rating,
    over,
};
// The note sounds, or it is her turn: what is heard belongs to a trial.
bool is_judging(GuidePhase phase);

struct GuideView {
    GuidePhase phase{GuidePhase::posture};
    int place{1};  // of the trial shown, from 1
    int asked{0};
    int repetition{1};
    int repetitions{1};
    std::string headline;            // "3 of 14"
    std::string line;                // what to do now; empty: what the voice does says it
    std::string second;              // what comes next, or why
    std::string notice;              // what the sound check advises
    std::optional<Seconds> waits{};  // until something happens by itself
    std::string enter, space, next, escape, hurts;  // what the keys do; empty: nothing
    bool operator==(const GuideView&) const = default;
};

// ---- the guide ---------------------------------------------------------------------------------

// Chosen by us. Long enough to read the cue and to breathe twice.
inline constexpr Seconds kPostureTime{8.0};
// After a hold that sounds like a machine's: to say that it was hers, before it is asked for again.
inline constexpr Seconds kMachineRest{8.0};
inline constexpr Seconds kShortRest{4.0};  // after a glide: to read what was heard
// A voice that is not heard for so long is elsewhere: at the door, on the telephone.
inline constexpr Seconds kSilenceToPause{60.0};
// So many sounds too short to count, one after another: she speaks with somebody.
inline constexpr int kShortSoundsToPause = 6;
inline constexpr Seconds kLongestSoundCheck{30.0};
// A whole-breath hold that sounded so long has cost a breath, though it was begun again, skipped or
// paused: the rest comes first. A false start is shorter.
inline constexpr Seconds kBreathSpent{3.0};

class Guide {
public:
    explicit Guide(GuideSetup setup);

    void apply(const GuideEvent& event);
    // Since the last call, oldest first. The first ones come with the first event.
    std::vector<GuideWish> take_wishes();

    GuideView view() const;
    GuidePhase phase() const { return phase_; }
    // The trial shown; absent when all are done.
    const PlannedTrial* current() const;
    int trials_kept() const { return kept_; }  // with those of before
    int trials_asked() const { return static_cast<int>(setup_.trials.size()); }
    const std::optional<SoundCheckSummary>& sound_check() const { return check_; }
    // How it ended, or would if it ended now.
    Completion completion() const;

private:
    void hear(const StreamAdvanced& advanced);
    void hear(const CheckAsksFor& asks);
    void hear(const CheckDone& done);
    void hear(const NoteBegan&);
    void hear(const ListeningBegan&);
    void hear(const VoiceBegan&);
    void hear(const VoiceTooShort&);
    void hear(const TrialHeard& heard);
    void hear(const TrialStored&);
    void hear(const TrialImpossible& impossible);
    void hear(const MicrophoneGone&);
    void hear(const MicrophoneBack&);
    void hear(const RatingGiven&);
    void hear(GuideKey key);

    enum class PauseReason { asked_for, silence, short_sounds };

    void on_go_on();
    void on_pause();
    void on_skip();
    void on_stop();
    void on_hurts();

    void take_up(const std::vector<Trial>& already);
    void begin_check();
    void begin_trial();
    void begin_rest(Seconds length);
    void note_breath();         // before what sounds is left
    Seconds rest_owed() const;  // to the last whole breath
    bool rests_first();         // begins that rest when the trial shown needs a whole breath
    bool was_late(std::size_t planned);
    void go_on_after_rest();
    void pause(PauseReason reason);
    void step_aside(GuidePhase to);  // to something from which one comes back
    void come_back();
    void finish(Completion completion);
    void store(std::size_t planned, const Measures& measures);
    std::optional<std::size_t> planned_for(const Drill& drill) const;
    void move_on_from(std::size_t planned);
    void set_aside(std::size_t planned, const Measures& measures);
    void keep_what_was_set_aside();
    void go_on_resting_unless_aside(GuidePhase before);
    bool is_aside() const;
    bool all_done() const;
    void say_in_phase(GuideView& view) const;
    void say_when_paused(GuideView& view) const;
    std::string second_when_resting() const;

    GuideSetup setup_;
    std::vector<bool> done_;           // per planned trial
    std::size_t at_{0};                // planned trial shown; setup_.trials.size(): all are through
    std::optional<std::size_t> last_;  // heard last
    struct SetAside {
        std::size_t planned{0};
        HoldMeasures measures;
    };
    std::optional<SetAside> set_aside_{};  // a machine's, perhaps; during the rest after it
    int kept_{0};
    int numbers_{0};  // given so far
    int unstored_{0};
    GuidePhase phase_{GuidePhase::posture};
    GuidePhase aside_{GuidePhase::posture};  // where it comes back to
    PauseReason reason_{PauseReason::asked_for};
    bool repeats_{false};  // the trial shown is done once more
    bool went_on_{false};  // taken up after an interruption
    CheckPart check_part_{CheckPart::room};
    std::optional<SoundCheckSummary> check_;
    std::string advice_;                     // of the sound check
    std::string refusal_;                    // why the last trial could not be done
    Seconds elapsed_{};                      // since the practice began
    Seconds waited_{};                       // in this phase
    Seconds rest_{};                         // length of the one under way
    Seconds voice_at_{};                     // when the trial under way began
    std::optional<Seconds> breath_ended_{};  // the last whole breath, since the practice began
    int short_sounds_{0};
    std::optional<Completion> ended_;
    std::vector<GuideWish> wishes_;
};

}  // namespace holdwell
