#pragma once
// What was practised, as values: a client, her practices, and their trials. Nothing here changes a
// measurement: times are seconds, and wall-clock time stands only on a practice.

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "app/practice/drill.h"
#include "app/practice/identity.h"
#include "app/practice/measurable_goal.h"
#include "app/practice/plan.h"
#include "dsp/hold.h"
#include "dsp/onset_baseline.h"
#include "dsp/units.h"

namespace holdwell {

// ---- what one trial came to ------------------------------------------------------------------

struct HoldMeasures {
    Seconds hold_time{};
    std::optional<Seconds> in_band{};  // absent without a target
    std::optional<Hertz> f0_median{};
    std::optional<Cents> deviation{};  // of the median, sharp positive
    std::optional<Cents> f0_sd{};
    int octaves_off{0};
    int interruptions{0};
    Seconds interrupted{};  // all of them together
    OnsetClass onset{OnsetClass::unsure};
    std::optional<Seconds> rise{};
    std::optional<Seconds> air_lead{};
    HoldEnd ended_by{HoldEnd::voice_stopped};
    Seconds fry{};
    Decibels snr{};
    std::optional<Decibels> loudness{};  // over the client's own comfortable voice
    std::optional<Quality> quality{};
    bool has_gap{false};           // samples were lost in it: kept, never a longest
    std::optional<Doubt> doubt{};  // kept and shown, never in a mean or a longest
};
struct GlideMeasures {
    GlideDirection direction{GlideDirection::up};
    Seconds length{};
    std::optional<Hertz> lowest{};
    std::optional<Hertz> highest{};
    int jumps{0};
    int gaps{0};
    std::optional<Semitones> largest_jump{};  // without its sign
    Seconds fry{};
    double smoothness{0.0};  // 0 .. 1
    bool has_gap{false};
    int breaks() const { return jumps + gaps; }
    std::optional<Semitones> range() const;  // absent without lowest and highest
};
struct SibilantMeasures {
    Seconds length{};
    bool fading_suspected{false};
    bool has_gap{false};
};
using Measures = std::variant<HoldMeasures, GlideMeasures, SibilantMeasures>;

Measures measures_of(const Hold& hold, SampleRate rate);
Measures measures_of(const Glide& glide, SampleRate rate);
Measures measures_of(const Sibilant& sibilant, SampleRate rate);

struct Trial {
    Id id{};
    int number{1};  // 1 .. in the practice, in the order they were done
    DrillKind kind{DrillKind::warm_up_hold};
    std::optional<Note> target{};  // of a hold
    int repetition{1};
    std::optional<Seconds> goal{};  // as it was then
    Cents band{100.0};              // as it was then
    Seconds begun{};                // since the practice began
    Measures measures{};
};

// ---- a practice --------------------------------------------------------------------------------

// Answers before a practice. Any yes: no drills today.
struct BeforePractice {
    bool pain{false};
    bool hoarser{false};
    bool unwell{false};
    bool on_voice_rest{false};
    bool any() const { return pain || hoarser || unwell || on_voice_rest; }
    bool operator==(const BeforePractice&) const = default;
};
// Ratings of our own, 0 .. 10: "how much effort did your voice take" and "any discomfort".
struct SelfRating {
    int effort{0};
    int discomfort{0};
    bool operator==(const SelfRating&) const = default;
};
struct SoundCheckSummary {
    Dbfs room{kDigitalSilence};
    Dbfs voice{kDigitalSilence};
    SampleRate sample_rate{};
    std::string fingerprint{};  // same microphone, rate and gain; no serial number; may be empty
    bool operator==(const SoundCheckSummary&) const = default;
};

enum class PracticeKind { at_home, in_session, entered_by_hand };
enum class Completion {
    under_way,  // or the program ended within it
    complete,
    partial,    // stopped early
    not_today,  // an answer beforehand spoke against it
    stopped_for_discomfort,
};

struct Practice {
    Id id{};
    Id client{};
    Id plan{};  // empty: without a plan
    int plan_revision{0};
    int taper_step{0};
    PracticeKind kind{PracticeKind::at_home};
    Moment begun{};
    Completion completion{Completion::under_way};
    int trials_asked{0};
    BeforePractice before{};
    std::optional<SelfRating> rating{};
    std::optional<SoundCheckSummary> sound_check{};
    std::string remark{};         // the client's own words; up to 600 letters
    std::vector<Trial> trials{};  // in order of number
};

// ---- a client ----------------------------------------------------------------------------------

enum class Standing { active, archived };

// Onsets that the therapist named in session: what her personal thresholds are learnt from.
struct OnsetBaselineRecord {
    Date labelled{};
    std::vector<LabelledOnset> onsets{};
};

struct Client {
    Id id{};
    std::string code{};  // 1 .. 40 letters; what she is found by; a name only if typed as one
    Standing standing{Standing::active};
    Date since{};
    bool keeps_audio{false};  // the client's own consent
    std::optional<OnsetBaselineRecord> onset_baseline{};
};

// All that is known of one client.
struct ClientFile {
    Client client{};
    std::vector<Plan> plans{};          // every revision, oldest first; the last is in force
    std::vector<Practice> practices{};  // by moment begun
    std::vector<ClientGoal> goals{};    // that can be measured; in the order they were set
};

// ---- beside them ------------------------------------------------------------------------------

// The sound of one trial, kept only with the client's consent.
struct Clip {
    Id trial{};
    std::vector<std::byte> flac{};
};
struct ClipsHeld {
    int count{0};
    std::int64_t bytes{0};
};

// A file that was written for somebody else to read: what left this computer, as a health record
// is expected to know of itself. Not who it went to: the program does not know.
struct HandedOut {
    enum class What { plan, practices, report, table } what{What::practices};
    enum class Days { dates, numbers } days{Days::dates};  // numbers: counted from day 1
    Date day{};
    bool name{false};  // one was typed into it
    bool audio{false};
    bool sealed{false};  // with a passphrase
    bool operator==(const HandedOut&) const = default;
};

// One client in a list: what a therapist looks for at a glance.
struct RosterLine {
    Id client{};
    std::string code{};
    Standing standing{Standing::active};
    std::optional<Date> last_practice{};
    int practices_this_week{0};  // seven days up to today
    int asked_a_week{0};
    // Mean of those days' means over the goal, as progress counts them (app/practice/counting.h).
    std::optional<double> goal_share{};
    bool reported_discomfort{false};  // in those days
};
// The same by value, trials included.
bool same(const Client& a, const Client& b);
bool same(const Trial& a, const Trial& b);
bool same(const Practice& a, const Practice& b);

}  // namespace holdwell
