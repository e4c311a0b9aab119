#pragma once
// What the therapist prescribes, as a value. Ranges are checked by faults_of(): a plan that has
// none can be practised.
//
// Defaults: each drill twice, twice a day, for six weeks, +-100 cents. The dose: Int. J.
// Speech-Lang. Pathol. 21, 37-45, 2019 (once was too little; twice and four times raised maximum
// phonation time).

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "app/practice/drill.h"
#include "app/practice/identity.h"
#include "dsp/tuning.h"
#include "dsp/units.h"

namespace holdwell {

enum class VoiceSet { higher, lower, own };

// Notes of a set (own, as soon as one of them is another); ascending ladder of 1 .. 8 notes between
// C2 and C6.
struct VoiceNotes {
    VoiceSet set{VoiceSet::higher};
    Note warm_up{kF4};
    std::vector<Note> ladder{Note{60}, Note{62}, Note{64}, Note{65}, Note{67}};  // C4 .. G4
    bool operator==(const VoiceNotes&) const = default;
};
VoiceNotes notes_of(VoiceSet set);  // own: the higher set, to be changed

// One line of the plan. A ladder hold stands for all notes of the ladder, ascending.
struct PlannedDrill {
    DrillKind kind{DrillKind::warm_up_hold};
    int repetitions{2};  // 1 .. 10, of each note
    bool operator==(const PlannedDrill&) const = default;
};

// Where a goal came from; it is always the therapist who sets it.
enum class GoalOrigin { s_baseline, volume_over_flow, by_hand };
struct Goal {
    Seconds hold{};  // 1 .. 120 s
    GoalOrigin origin{GoalOrigin::by_hand};
    Date set_on{};
    std::string reasoning{};  // "longest of 3 quiet /s/: 19.4 s"; may be empty; up to 600 letters
    bool operator==(const Goal&) const = default;
};

// How hold time is counted towards a goal.
enum class HoldCounts { all_phonation, in_band_only };
enum class NoteCue { played, silent };
enum class Keeps { measures_only, audio_too };

// One step of the taper, about a week each.
struct TaperStep {
    std::string name{};  // "once a day"; 1 .. 80 letters
    std::vector<PlannedDrill> drills{};
    int practices_a_week{14};  // 1 .. 42
    int days{7};               // 1 .. 60, asked at this step
    bool operator==(const TaperStep&) const = default;
};
struct Taper {
    std::vector<TaperStep> steps{};  // step 0 is the full plan and is not listed; 0 .. 12
    int met_on_days{3};              // 1 .. 30: goals met on so many days before it is offered
    double keep_share{0.85};         // 0.5 .. 1 of the goal to be kept; below it, one step back
    bool operator==(const Taper&) const = default;
};

// The therapist's own voice for one drill: a FLAC file of at most 15 s and 3 MiB.
struct ModelVoice {
    DrillKind kind{DrillKind::warm_up_hold};
    std::optional<Note> note{};  // of a hold
    std::vector<std::byte> flac{};
    bool operator==(const ModelVoice&) const = default;
};

struct Plan {
    Id id{};                              // the same through all revisions
    int revision{1};                      // 1 .. ; raised with every change that is handed out
    std::string title{"Daily practice"};  // 1 .. 80 letters
    Date written{};
    std::string words_for_client{};  // shown before a practice; up to 600 letters; may be empty

    VoiceNotes voice{};
    std::vector<PlannedDrill> drills{{DrillKind::warm_up_hold, 2},
                                     {DrillKind::rising_glide, 2},
                                     {DrillKind::falling_glide, 2},
                                     {DrillKind::ladder_hold, 2}};  // 1 .. 12, in order
    int practices_a_day{2};                                         // 1 .. 6
    int most_practices_a_day{2};  // practices_a_day .. 8: more are advised against
    int weeks{6};                 // 1 .. 26

    Cents band{100.0};  // 10 .. 300, to each side
    HoldCounts counts{HoldCounts::all_phonation};
    Seconds bridge{300ms};       // 0.1 .. 0.5 s; a shorter gap is an interruption
    std::optional<Goal> goal{};  // of every hold; absent: as long as the breath is easy
    NoteCue cue{NoteCue::played};
    PitchLine pitch_line{PitchLine::shown};
    Seconds rest{15.0};  // 15 .. 600 s between maximal holds

    Keeps keeps{Keeps::measures_only};
    int keep_audio_days{28};  // 1 .. 365; only with audio_too, and with the client's consent
    Taper taper{};
    int taper_step{0};                 // 0: the full plan; 1 .. taper.steps.size()
    std::vector<ModelVoice> models{};  // 0 .. 16, one for each drill and note
    bool operator==(const Plan&) const = default;
};

// Something in a plan that cannot be practised: "drills[2].repetitions", and one sentence with the
// value it has and those it may take ("It is 11; it may be 1 to 10."). Places are those of a plan
// file, with the unit where there is one: title, words_for_client, voice.set, voice.warm_up,
// voice.ladder[0], drills, practices_a_day, most_practices_a_day, weeks, band_cents, bridge_s,
// goal.hold_s, goal.reasoning, rest_s, keep_audio_days, taper.steps[0].practices_a_week,
// taper.met_on_days, taper.keep_share, taper_step, models[0].flac_base64. Ranges as numbers:
// app/practice/plan_limits.h.
struct Fault {
    std::string place{};
    std::string sentence{};
    bool operator==(const Fault&) const = default;
};
std::vector<Fault> faults_of(const Plan& plan);

// What is asked at the plan's present step.
std::vector<PlannedDrill> drills_now(const Plan& plan);
int practices_a_week_now(const Plan& plan);

// One trial to be done: what the engine is told, and where in the practice it stands.
struct PlannedTrial {
    Drill drill{};
    int repetition{1};  // 1 .. repetitions
    int repetitions{1};
    bool is_maximal{false};  // a whole-breath hold: a rest comes after it
    bool operator==(const PlannedTrial& other) const;
};
// All trials of one practice at the plan's present step, in order.
std::vector<PlannedTrial> trials_of(const Plan& plan);

}  // namespace holdwell
