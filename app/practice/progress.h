#pragma once
// What a client's record says, read but not interpreted: adherence, every trial as a point, weeks,
// changes. Pure: the same file and period give the same progress, in whatever order the practices
// and trials stand, and a trial that stands twice (same id) is counted once.
//
// Weeks are seven days, counted from the first practice at home, which opens week 1. A week's mean
// is the mean of its days' means, given only for three days or more: one day's mean is less certain
// (intraclass correlation of maximum phonation time 0.836 for one day, 0.911 for two, 0.935 for
// three: J. Voice 24, 281-284, 2010).
//
// Counted (in means, medians, longest, mixes): trials measured at home in which no samples were
// lost and nothing was in doubt. Others are kept as points and marked.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "app/practice/counting.h"
#include "app/practice/plan.h"
#include "app/practice/records.h"

namespace holdwell {

// Both days belong to it.
struct Period {
    Date from{};
    Date to{};     // not after today
    Date today{};  // asked of today counts only as far as it is done: the day is not over
    bool operator==(const Period&) const = default;
};
// From the first practice to today; a week up to today when there is none.
Period whole_record(const ClientFile& file, Date today);

// The revision in force on that day: the last one written by then; the first one before any.
// Absent without plans.
std::optional<Plan> plan_in_force(const ClientFile& file, Date day);

// ---- adherence ---------------------------------------------------------------------------------

// Practices of one day or of several, at home and by hand; in session is no practice at home.
struct Adherence {
    // By the plan in force, from the first practice at home to the end of the plan's weeks.
    int asked{0};
    int complete{0};
    int partly{0};     // stopped early, cut off, or stopped for discomfort; with a trial at least
    int not_today{0};  // an answer beforehand spoke against it
    int stopped_for_discomfort{0};  // these stand in `partly` too
    int entered_by_hand{0};         // of the complete and partly done ones
    int done() const { return complete + partly; }
    bool operator==(const Adherence&) const = default;
};
struct AdherenceDay {
    Date day{};
    Adherence of{};
    bool operator==(const AdherenceDay&) const = default;
};

// ---- trials as points --------------------------------------------------------------------------

enum class TrialSource { at_home, in_session, by_hand };

struct TimedPoint {  // a hold, an /s/ or a /z/
    Date day{};
    double day_part{0.0};  // 0 .. 1 of the day, by the clock: tells practices of a day apart
    Id practice{};
    int number{1};  // of the trial in the practice
    // All phonation, or in band only: as the plan in force on the period's last day counts, for
    // all points alike, so that a new way of counting never looks like a change of the voice.
    Seconds counted{};
    Seconds hold_time{};
    std::optional<Seconds> in_band{};
    std::optional<Seconds> goal{};  // as it was then
    TrialSource source{TrialSource::at_home};
    TrialMark mark{TrialMark::none};
    bool counts() const { return source == TrialSource::at_home && mark == TrialMark::none; }
    bool operator==(const TimedPoint&) const = default;
};

struct TimedWeek {  // of counted trials
    int week{1};
    Date begins{};
    int days{0};  // on which it was practised
    int trials{0};
    Seconds median{};               // of the trials
    std::optional<Seconds> mean{};  // of the days' means; absent with fewer than three days
    Seconds best{};
    double in_band_share{0.0};  // 0 .. 1 of the hold time; 0 without a target
    bool operator==(const TimedWeek&) const = default;
};

// Said only when it is as large as 5 s and 20 %: derived, not published, from the reliability of
// three days (see above) with a spread between people of 5 to 7 s: 1.96 sqrt(2) SD sqrt(1 - ICC).
struct Change {
    enum class Kind { too_few_days, within_variation, longer, shorter } kind{Kind::too_few_days};
    std::optional<TimedWeek> first{};  // the first and the last week with a mean; absent when
    std::optional<TimedWeek> last{};   // there are no two of them
    // Last less first, both to the tenth of a second as they are shown: what is read adds up.
    Seconds difference{};
    std::string reason{};  // one sentence with the figures
    bool operator==(const Change&) const = default;
};
inline constexpr Seconds kLeastChange{5.0};
inline constexpr double kLeastChangeShare = 0.20;  // of the first week's mean
inline constexpr int kDaysForMean = 3;

// One drill at one note: each is trended by itself.
struct TimedSeries {
    DrillKind kind{DrillKind::warm_up_hold};
    std::optional<Note> note{};        // absent for /s/ and /z/
    std::vector<TimedPoint> points{};  // by time
    std::vector<TimedWeek> weeks{};    // those with a counted trial
    std::optional<Seconds> goal{};     // of the plan in force on the period's last day
    std::optional<TimedPoint> best{};  // longest counted, the earliest of equals
    std::optional<Seconds> recent{};   // mean of the days' means, last seven days of the period
    std::optional<double> goal_share() const;  // recent over goal
    Change change{};
    bool operator==(const TimedSeries&) const = default;
};

struct GlidePoint {
    Date day{};
    double day_part{0.0};
    Id practice{};
    int number{1};
    std::optional<Semitones> range{};
    int breaks{0};
    std::optional<Semitones> largest_break{};  // without its sign
    Seconds fry{};
    TrialSource source{TrialSource::at_home};
    TrialMark mark{TrialMark::none};
    bool counts() const { return source == TrialSource::at_home && mark == TrialMark::none; }
    bool operator==(const GlidePoint&) const = default;
};
struct GlideWeek {
    int week{1};
    Date begins{};
    int glides{0};
    std::optional<Semitones> range{};  // median
    double breaks_per_glide{0.0};
    std::optional<Semitones> largest_break{};
    bool operator==(const GlideWeek&) const = default;
};
struct GlideSeries {
    GlideDirection direction{GlideDirection::up};
    std::vector<GlidePoint> points{};
    std::vector<GlideWeek> weeks{};
    std::optional<Semitones> widest{};  // of counted glides
    bool operator==(const GlideSeries&) const = default;
};

// ---- the rest of it ----------------------------------------------------------------------------

// Of the counted holds of a week.
struct OnsetWeek {
    int week{1};
    Date begins{};
    int easy{0}, hard{0}, breathy{0}, unsure{0};
    int all() const { return easy + hard + breathy + unsure; }
    bool operator==(const OnsetWeek&) const = default;
};
// Pulse register in counted holds and glides of a week.
struct FryWeek {
    int week{1};
    Date begins{};
    int trials{0};
    int with_fry{0};  // 150 ms of it or more
    bool operator==(const FryWeek&) const = default;
};
inline constexpr Seconds kFryWorthCounting{0.15};

// Quiet /s/ and /z/ of one practice in session, the longest of each.
struct BaselineReading {
    Date day{};
    int s_trials{0};
    int z_trials{0};
    std::optional<Seconds> s{};
    std::optional<Seconds> z{};
    std::optional<double> ratio() const;  // s over z; the therapist's alone
    bool operator==(const BaselineReading&) const = default;
};

struct RatingPoint {
    Date day{};
    double day_part{0.0};
    SelfRating rating{};
    bool stopped_for_discomfort{false};
    bool operator==(const RatingPoint&) const = default;
};

// The first practice with another microphone, rate or gain than the one before it: levels and
// onsets before and after are not to be compared.
struct SetUpChange {
    Date day{};
    bool operator==(const SetUpChange&) const = default;
};

struct Progress {
    Period period{};
    std::optional<Date> day_one{};     // opens week 1, whatever the period; absent without practice
    int practices{0};                  // with a trial at least, in the period, in session too
    int trials{0};                     // each once
    int trials_not_counted{0};         // marked ones, but for those entered by hand
    Adherence adherence{};             // of the whole period
    std::vector<AdherenceDay> days{};  // every day of the period
    std::vector<AdherenceDay> weeks{};  // by first day, which the period may begin after
    std::vector<TimedSeries> timed{};   // warm-up, ladder ascending, /s/, /z/ of practices at home
    std::vector<GlideSeries> glides{};  // rising, falling
    std::vector<OnsetWeek> onsets{};
    std::vector<FryWeek> fry{};
    std::vector<BaselineReading> baselines{};
    std::vector<RatingPoint> ratings{};
    std::vector<SetUpChange> set_ups{};
    bool operator==(const Progress&) const = default;
};
Progress progress_of(const ClientFile& file, const Period& period);

// Week of the record, from 1, and its first day.
int week_of(Date day, Date day_one);
Date first_day_of_week(int week, Date day_one);

// ---- what the client reads ---------------------------------------------------------------------

struct NoteStanding {
    DrillKind kind{DrillKind::warm_up_hold};
    std::optional<Note> note{};
    std::optional<Seconds> last{};     // mean of the last practice day's counted trials
    std::optional<Seconds> longest{};  // of all
    std::optional<Date> longest_on{};
    std::optional<Seconds> goal{};
    bool operator==(const NoteStanding&) const = default;
};
// Calm and short: this week, each note against its goal, range and breaks.
struct ClientReading {
    int week{1};
    std::vector<AdherenceDay> days{};  // seven, ahead ones too, with what is asked of each
    int done{0};
    int asked{0};  // of the whole week
    std::vector<NoteStanding> notes{};
    std::optional<Semitones> range{};  // median of this week's glides, else of the last ones
    std::optional<double> breaks_per_glide{};            // this week
    std::optional<double> breaks_per_glide_last_week{};  // the week before
    bool operator==(const ClientReading&) const = default;
};
ClientReading client_reading(const ClientFile& file, Date today);

}  // namespace holdwell
