#include "tests/support/records/course.h"

#include <algorithm>
#include <cmath>

#include "tests/support/random.h"

namespace holdwell::test {

namespace {

using std::chrono::days;
using std::chrono::minutes;

class CourseWriter {
public:
    explicit CourseWriter(const Course& course) : course_{course}, random_{course.seed} {}

    ClientFile write()
    {
        ClientFile file{.client = {.id = id(), .code = course_.code, .since = course_.begins},
                        .plans = {plan()},
                        .practices = {}};
        file.practices.push_back(baseline(day_after(course_.begins, days{-1})));
        for (int day = 0; day < course_.days; ++day) {
            for (const int hour : {8, 19}) {
                if (random_.below(10) < course_.most_missed_in_ten) continue;
                file.practices.push_back(practice(day, hour));
            }
        }
        for (Practice& practice : file.practices) practice.client = file.client.id;
        return file;
    }

private:
    Id id()
    {
        constexpr const char* kDigits = "0123456789abcdef";
        Id made;
        for (int i = 0; i < 32; ++i) made.text += kDigits[random_.below(16)];
        return made;
    }

    Plan plan()
    {
        plan_id_ = id();
        Plan made{.id = plan_id_, .written = course_.begins};
        made.weeks = 26;
        made.goal = Goal{.hold = Seconds{18.0},
                         .origin = GoalOrigin::s_baseline,
                         .set_on = course_.begins,
                         .reasoning = "longest of 3 quiet /s/: 18.2 s"};
        return made;
    }

    Practice baseline(Date day)
    {
        Practice made{.id = id(), .kind = PracticeKind::in_session};
        made.begun = {day, {minutes{15 * 60}}};
        made.completion = Completion::complete;
        for (int i = 0; i < 6; ++i) {
            const bool is_s = i < 3;
            made.trials.push_back(
                {.id = id(),
                 .number = i + 1,
                 .kind = is_s ? DrillKind::s_hold : DrillKind::z_hold,
                 .measures = SibilantMeasures{.length = Seconds{random_.uniform(15.0, 18.2)}}});
        }
        return made;
    }

    // 0 at the beginning, towards 1.
    double grown(int day) const { return 1.0 - std::exp(-day / 30.0); }

    HoldMeasures hold(int day, int note)
    {
        HoldMeasures made;
        const double mean = 8.5 + 8.5 * grown(day) - 0.5 * note;
        made.hold_time = Seconds{std::max(1.0, mean + 1.4 * random_.normal())};
        made.in_band = made.hold_time * std::min(0.98, 0.6 + 0.3 * grown(day));
        made.onset = onset(day);
        made.snr = {32.0};
        made.fry = Seconds{random_.below(12) == 0 ? 0.3 : 0.0};
        if (random_.below(60) == 0) made.has_gap = true;
        if (random_.below(60) == 0) made.doubt = Doubt::noisy_room;
        return made;
    }

    OnsetClass onset(int day)
    {
        const double drawn = random_.uniform(0.0, 1.0);
        const double easy = 0.35 + 0.45 * grown(day);
        if (drawn < easy) return OnsetClass::easy;
        if (drawn < easy + 0.12) return OnsetClass::breathy;
        return drawn < easy + 0.17 ? OnsetClass::unsure : OnsetClass::hard;
    }

    GlideMeasures glide(int day, GlideDirection direction)
    {
        GlideMeasures made{.direction = direction, .length = Seconds{6.0}};
        made.lowest = Hertz{180.0};
        const double range = 13.0 + 7.0 * grown(day) + 1.5 * random_.normal();
        made.highest = Hertz{180.0 * std::exp2(range / 12.0)};
        made.jumps = std::max(
            0, static_cast<int>(std::lround(2.2 - 2.0 * grown(day) + random_.uniform(-1.0, 1.0))));
        if (made.jumps > 0) made.largest_jump = Semitones{random_.uniform(3.0, 7.0)};
        return made;
    }

    void add_hold(Practice& practice, DrillKind kind, Note note, int day)
    {
        for (int repetition = 1; repetition <= 2; ++repetition) {
            practice.trials.push_back({.id = id(),
                                       .number = static_cast<int>(practice.trials.size()) + 1,
                                       .kind = kind,
                                       .target = note,
                                       .repetition = repetition,
                                       .goal = Seconds{18.0},
                                       .measures = hold(day, note.midi - 60)});
        }
    }

    void add_glide(Practice& practice, GlideDirection direction, int day)
    {
        const bool up = direction == GlideDirection::up;
        for (int repetition = 1; repetition <= 2; ++repetition) {
            practice.trials.push_back(
                {.id = id(),
                 .number = static_cast<int>(practice.trials.size()) + 1,
                 .kind = up ? DrillKind::rising_glide : DrillKind::falling_glide,
                 .repetition = repetition,
                 .measures = glide(day, direction)});
        }
    }

    Practice practice(int day, int hour)
    {
        Practice made{.id = id(), .plan = plan_id_, .plan_revision = 1};
        made.begun = {day_after(course_.begins, days{day}), {minutes{60 * hour}}};
        made.trials_asked = 16;
        if (random_.below(30) == 0) {
            made.before.unwell = true;
            made.completion = Completion::not_today;
            return made;
        }
        if (random_.below(25) == 0) {
            made.kind = PracticeKind::entered_by_hand;
            made.completion = Completion::complete;
            return made;
        }
        fill(made, day);
        return made;
    }

    void fill(Practice& made, int day)
    {
        add_hold(made, DrillKind::warm_up_hold, kF4, day);
        add_glide(made, GlideDirection::up, day);
        add_glide(made, GlideDirection::down, day);
        for (const int midi : {60, 62, 64, 65, 67})
            add_hold(made, DrillKind::ladder_hold, Note{midi}, day);
        made.completion = Completion::complete;
        if (random_.below(15) == 0) {
            made.trials.resize(9);
            made.completion = Completion::partial;
        }
        const double effort = 5.0 - 3.0 * grown(day) + random_.normal();
        made.rating = SelfRating{.effort = std::clamp(static_cast<int>(std::lround(effort)), 0, 10),
                                 .discomfort = random_.below(8) == 0 ? random_.below(4) : 0};
        made.sound_check =
            SoundCheckSummary{.fingerprint = day < 24 ? "headset, 48000" : "desk, 48000"};
    }

    Course course_;
    Random random_;
    Id plan_id_;
};

}  // namespace

ClientFile record_of(const Course& course) { return CourseWriter{course}.write(); }

}  // namespace holdwell::test
