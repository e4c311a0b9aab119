#include "app/practice/progress.h"

#include <doctest/doctest.h>

#include <cmath>

#include "app/practice/progress_parts.h"
#include "tests/app/practice/made_practice.h"

namespace holdwell {
namespace {

using test::day;
using test::file_with;
using test::glide_of;
using test::hold_of;
using test::practice_on;

Progress read(const ClientFile& file, int last_day)
{
    return progress_of(file, whole_record(file, day(last_day)));
}

// Worked out on paper: week 1 has day means 9, 10 and 12; week 2 two days; week 3 15, 16 and 17.
ClientFile three_weeks()
{
    return file_with(
        {practice_on(1, {hold_of(8.0), hold_of(10.0)}), practice_on(2, {hold_of(10.0)}),
         practice_on(4, {hold_of(11.0), hold_of(13.0)}), practice_on(8, {hold_of(14.0)}),
         practice_on(9, {hold_of(14.5)}), practice_on(15, {hold_of(15.0)}),
         practice_on(16, {hold_of(16.0)}), practice_on(17, {hold_of(17.0)})});
}

TEST_CASE("a week's mean is the mean of its days' means, given for three days or more")
{
    const Progress progress = read(three_weeks(), 17);
    REQUIRE(progress.timed.size() == 1);
    const std::vector<TimedWeek>& weeks = progress.timed[0].weeks;
    REQUIRE(weeks.size() == 3);
    CHECK(weeks[0].mean->count() == doctest::Approx(31.0 / 3.0));
    CHECK(weeks[0].median.count() == 10.0);  // of 8, 10, 10, 11, 13
    CHECK(weeks[0].best.count() == 13.0);
    CHECK(weeks[0].days == 3);
    CHECK(weeks[0].trials == 5);
    CHECK_FALSE(weeks[1].mean.has_value());
    CHECK(weeks[1].median.count() == 14.25);  // between 14 and 14.5
    CHECK(weeks[2].mean->count() == 16.0);
    CHECK(weeks[2].begins == day(15));
    CHECK(progress.timed[0].best->counted.count() == 17.0);
    CHECK(progress.timed[0].recent->count() == 16.0);  // days 11 to 17
}

TEST_CASE("what was noted on paper counts as practised, and no measurement of it failed")
{
    Trial glide = glide_of(0.0, 2);
    glide.measures = GlideMeasures{.jumps = 2};  // that it was done, and its breaks
    Practice by_hand = practice_on(1, {hold_of(8.0), glide});
    by_hand.kind = PracticeKind::entered_by_hand;
    const Progress progress = read(file_with({by_hand}), 1);
    CHECK(progress.adherence.done() == 1);
    CHECK(progress.trials == 2);
    CHECK(progress.trials_not_counted == 0);
    CHECK(progress.glides.at(0).points.at(0).breaks == 2);
    CHECK_FALSE(progress.glides.at(0).points.at(0).counts());
}

TEST_CASE("a change is said with the figures it rests on")
{
    const Change change = read(three_weeks(), 17).timed[0].change;
    CHECK(change.kind == Change::Kind::longer);
    // 16 - 31/3 = 5.67; of 31/3 that is 54.8 %.
    CHECK(change.reason ==
          "Week 1 mean 10.3 s over 3 days, week 3 mean 16.0 s over 3 days: +5.7 s (55 %) longer.");
}

TEST_CASE("a change is said from 5 s and 20 % on, never of one alone")
{
    struct Row {
        double first_s;
        double last_s;
        Change::Kind kind;
    };
    // The rule itself: 5 s and 20 % of the first mean, whichever asks for more.
    const Row rows[] = {
        {10.0, 15.0, Change::Kind::longer},           {10.0, 14.9, Change::Kind::within_variation},
        {30.0, 35.9, Change::Kind::within_variation}, {30.0, 36.0, Change::Kind::longer},
        {25.0, 30.0, Change::Kind::longer},           {20.0, 14.0, Change::Kind::shorter},
        {20.0, 15.1, Change::Kind::within_variation}, {10.0, 10.0, Change::Kind::within_variation},
    };
    for (const Row& row : rows) {
        CAPTURE(row.first_s);
        CAPTURE(row.last_s);
        const TimedWeek first{.week = 1, .days = 3, .mean = Seconds{row.first_s}};
        const TimedWeek last{.week = 6, .days = 5, .mean = Seconds{row.last_s}};
        CHECK(change_between({first, last}).kind == row.kind);
    }
    CHECK(change_between({}).kind == Change::Kind::too_few_days);
    CHECK(change_between({{.days = 5, .mean = Seconds{9.0}}}).kind == Change::Kind::too_few_days);
}

TEST_CASE("the least change called one exceeds what three days of phonation times vary by")
{
    // Reliability: J. Voice 24, 281-284, 2010 (one day 0.836, three days 0.935). The smallest
    // detectable change with 95 % confidence is 1.96 sqrt(2) SD sqrt(1 - ICC); a spread of 5 to 7 s
    // between people is an assumption.
    const auto detectable = [](double spread_s, double reliability) {
        return 1.96 * std::sqrt(2.0) * spread_s * std::sqrt(1.0 - reliability);
    };
    CHECK(detectable(5.0, 0.935) == doctest::Approx(3.5).epsilon(0.02));
    CHECK(kLeastChange.count() >= detectable(7.0, 0.935));
    // One day would not do.
    CHECK(kLeastChange.count() < detectable(5.0, 0.836));
    CHECK(kDaysForMean == 3);
}

TEST_CASE("trials that are in doubt, lost samples or were sung elsewhere stay points and count not")
{
    Practice home = practice_on(1, {hold_of(10.0), hold_of(30.0), hold_of(31.0), hold_of(0.0)});
    std::get<HoldMeasures>(home.trials[1].measures).has_gap = true;
    std::get<HoldMeasures>(home.trials[2].measures).doubt = Doubt::machine;
    Practice session = practice_on(2, {hold_of(32.0)});
    session.kind = PracticeKind::in_session;
    Practice by_hand = practice_on(3, {hold_of(33.0)});
    by_hand.kind = PracticeKind::entered_by_hand;
    const Progress progress = read(file_with({home, session, by_hand}), 3);
    const TimedSeries& series = progress.timed.at(0);
    REQUIRE(series.points.size() == 6);
    CHECK(series.points[1].mark == TrialMark::samples_lost);
    CHECK(series.points[2].mark == TrialMark::doubtful);
    CHECK(series.points[3].mark == TrialMark::not_measured);
    CHECK(series.points[4].source == TrialSource::in_session);
    CHECK(series.points[5].source == TrialSource::by_hand);
    CHECK(series.best->counted.count() == 10.0);
    CHECK(series.weeks.at(0).trials == 1);
    CHECK(progress.trials == 6);
    CHECK(progress.trials_not_counted == 3);
}

TEST_CASE("each note is read by itself, and time in band counts where the plan says so")
{
    Practice practice =
        practice_on(1, {hold_of(10.0), hold_of(12.0, DrillKind::ladder_hold, Note{62}),
                        hold_of(14.0, DrillKind::ladder_hold, Note{60})});
    std::get<HoldMeasures>(practice.trials[2].measures).in_band = Seconds{7.0};
    ClientFile file = file_with({practice});
    file.plans[0].goal = Goal{.hold = Seconds{14.0}};
    Progress progress = read(file, 1);
    REQUIRE(progress.timed.size() == 3);
    CHECK(progress.timed[0].kind == DrillKind::warm_up_hold);
    CHECK(progress.timed[1].note == Note{60});
    CHECK(progress.timed[2].note == Note{62});
    CHECK(progress.timed[1].goal_share() == doctest::Approx(1.0));
    file.plans[0].counts = HoldCounts::in_band_only;
    progress = read(file, 1);
    CHECK(progress.timed[1].goal_share() == doctest::Approx(0.5));
    CHECK(progress.timed[1].weeks[0].in_band_share == doctest::Approx(0.5));
}

TEST_CASE("glides: range, breaks per glide and the largest, by week")
{
    Practice first = practice_on(1, {glide_of(12.0, 3), glide_of(14.0, 1)});
    std::get<GlideMeasures>(first.trials[0].measures).largest_jump = Semitones{5.0};
    const Practice second =
        practice_on(8, {glide_of(19.0, 0), glide_of(9.0, 2, GlideDirection::down)});
    const Progress progress = read(file_with({first, second}), 8);
    REQUIRE(progress.glides.size() == 2);
    const GlideSeries& rising = progress.glides[0];
    REQUIRE(rising.weeks.size() == 2);
    CHECK(rising.weeks[0].range->value == doctest::Approx(13.0));
    CHECK(rising.weeks[0].breaks_per_glide == 2.0);
    CHECK(rising.weeks[0].largest_break->value == 5.0);
    CHECK(rising.weeks[1].range->value == doctest::Approx(19.0));
    CHECK(rising.widest->value == doctest::Approx(19.0));
    CHECK(progress.glides[1].direction == GlideDirection::down);
    CHECK(progress.glides[1].weeks[0].breaks_per_glide == 2.0);
}

TEST_CASE("the s/z ratio is the longest quiet /s/ over the longest /z/, timed in session")
{
    Practice session = practice_on(1, {});
    session.kind = PracticeKind::in_session;
    const auto add = [&](DrillKind kind, double seconds, bool fading) {
        Trial trial{.kind = kind,
                    .measures =
                        SibilantMeasures{.length = Seconds{seconds}, .fading_suspected = fading}};
        trial.id.text = std::to_string(session.trials.size());
        session.trials.push_back(trial);
    };
    add(DrillKind::s_hold, 15.0, false);
    add(DrillKind::s_hold, 17.5, false);
    add(DrillKind::s_hold, 25.0, true);  // the system took it for noise
    add(DrillKind::z_hold, 12.5, false);
    const Progress progress = read(file_with({session}), 1);
    REQUIRE(progress.baselines.size() == 1);
    CHECK(progress.baselines[0].s->count() == 17.5);
    CHECK(*progress.baselines[0].ratio() == doctest::Approx(1.4));  // 17.5 / 12.5
    CHECK(progress.timed.empty());
    CHECK(progress.adherence.asked == 0);  // nothing is known of practice at home
}

TEST_CASE("onsets and fry are counted by week")
{
    Practice practice =
        practice_on(1, {hold_of(9.0), hold_of(9.0), hold_of(9.0), glide_of(12.0, 0)});
    std::get<HoldMeasures>(practice.trials[0].measures).onset = OnsetClass::easy;
    std::get<HoldMeasures>(practice.trials[1].measures).onset = OnsetClass::hard;
    std::get<HoldMeasures>(practice.trials[1].measures).fry = Seconds{0.15};
    std::get<GlideMeasures>(practice.trials[3].measures).fry = Seconds{0.149};
    const Progress progress = read(file_with({practice}), 1);
    CHECK(progress.onsets ==
          std::vector<OnsetWeek>{
              {.week = 1, .begins = day(1), .easy = 1, .hard = 1, .breathy = 0, .unsure = 1}});
    CHECK(progress.fry ==
          std::vector<FryWeek>{{.week = 1, .begins = day(1), .trials = 4, .with_fry = 1}});
}

TEST_CASE("a new set-up is a break in the trend, said with the change across it")
{
    ClientFile file = three_weeks();
    for (Practice& practice : file.practices) {
        const bool is_late = practice.begun.date >= day(9);
        practice.sound_check = SoundCheckSummary{.fingerprint = is_late ? "desk" : "headset"};
    }
    file.practices[1].sound_check.reset();  // no check is no change
    const Progress progress = read(file, 17);
    CHECK(progress.set_ups == std::vector<SetUpChange>{{day(9)}});
    CHECK(progress.timed[0].change.reason.ends_with("The set-up changed between them."));
}

TEST_CASE("weeks are seven days from the first practice")
{
    struct Row {
        int day_number;
        int week;
    };
    const Row rows[] = {{-6, 0}, {0, 0}, {1, 1}, {7, 1}, {8, 2}, {14, 2}, {15, 3}, {-7, -1}};
    for (const Row& row : rows) {
        CAPTURE(row.day_number);
        CHECK(week_of(day(row.day_number), day(1)) == row.week);
    }
    CHECK(first_day_of_week(3, day(1)) == day(15));
}

}  // namespace
}  // namespace holdwell
