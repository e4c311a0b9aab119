#include <doctest/doctest.h>

#include <algorithm>

#include "app/practice/progress.h"
#include "tests/support/random.h"
#include "tests/support/records/course.h"
#include "tests/support/records/random_records.h"

namespace holdwell {
namespace {

using std::chrono::days;
using test::Course;
using test::Random;

template <typename Value>
void shuffle(std::vector<Value>& values, Random& random)
{
    for (std::size_t i = values.size(); i > 1; --i)
        std::swap(values[i - 1],
                  values[static_cast<std::size_t>(random.below(static_cast<int>(i)))]);
}

ClientFile shuffled(ClientFile file, Random& random)
{
    for (Practice& practice : file.practices) shuffle(practice.trials, random);
    shuffle(file.practices, random);
    return file;  // the order of plans says which came into force after which
}

// Every other practice stands twice, once with its last trials missing.
ClientFile doubled(ClientFile file, Random& random)
{
    std::vector<Practice> copies = file.practices;
    for (Practice& copy : copies) {
        if (random.below(2) == 0) copy.trials.resize(copy.trials.size() / 2);
    }
    file.practices.insert(file.practices.end(), copies.begin(), copies.end());
    return file;
}

std::size_t points_in(const Progress& progress)
{
    std::size_t points = 0;
    for (const TimedSeries& series : progress.timed) points += series.points.size();
    for (const GlideSeries& series : progress.glides) points += series.points.size();
    return points;
}

std::size_t baseline_trials_in(const ClientFile& file)
{
    std::size_t trials = 0;
    for (const Practice& practice : file.practices) {
        if (practice.kind != PracticeKind::in_session) continue;
        trials +=
            static_cast<std::size_t>(std::ranges::count_if(practice.trials, [](const Trial& t) {
                return std::holds_alternative<SibilantMeasures>(t.measures);
            }));
    }
    return trials;
}

TEST_CASE("the order of practices and trials does not matter")
{
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
        CAPTURE(seed);
        const ClientFile file = test::record_of({.days = 30, .seed = seed});
        const Period period = whole_record(file, day_after(file.plans[0].written, days{29}));
        Random random{seed};
        CHECK(progress_of(shuffled(file, random), period) == progress_of(file, period));
        const Date today = period.today;
        CHECK(client_reading(shuffled(file, random), today) == client_reading(file, today));
    }
}

TEST_CASE("the order does not matter for records of any values either")
{
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        CAPTURE(seed);
        test::RandomRecords records{seed};
        const ClientFile file = records.file(3, 12);
        const Date last{std::chrono::year{2029}, std::chrono::December, std::chrono::day{31}};
        Random random{seed};
        const Period period = whole_record(file, last);
        CHECK(progress_of(shuffled(file, random), period) == progress_of(file, period));
    }
}

TEST_CASE("a practice or trial that stands twice is counted once")
{
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
        CAPTURE(seed);
        const ClientFile file = test::record_of({.days = 20, .seed = seed});
        const Period period = whole_record(file, day_after(file.plans[0].written, days{19}));
        Random random{seed};
        CHECK(progress_of(doubled(file, random), period) == progress_of(file, period));
    }
}

TEST_CASE("every trial is one point, every counted hold one onset, every week's sum the whole")
{
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
        CAPTURE(seed);
        const ClientFile file = test::record_of({.days = 40, .seed = seed});
        const Progress progress =
            progress_of(file, whole_record(file, day_after(file.plans[0].written, days{39})));
        CHECK(points_in(progress) + baseline_trials_in(file) ==
              static_cast<std::size_t>(progress.trials));
        int counted = 0;
        for (const TimedSeries& series : progress.timed)
            counted += static_cast<int>(std::ranges::count_if(
                series.points, [](const TimedPoint& point) { return point.counts(); }));
        int onsets = 0;
        for (const OnsetWeek& week : progress.onsets) onsets += week.all();
        CHECK(onsets == counted);
        int asked = 0;
        int done = 0;
        for (const AdherenceDay& week : progress.weeks) {
            asked += week.of.asked;
            done += week.of.done();
        }
        CHECK(asked == progress.adherence.asked);
        CHECK(done == progress.adherence.done());
    }
}

TEST_CASE("a shorter period reads no day outside it")
{
    const ClientFile file = test::record_of({.days = 40});
    const Date first = day_after(file.plans[0].written, days{10});
    const Date last = day_after(file.plans[0].written, days{16});
    const Progress progress = progress_of(file, {first, last, day_after(last, days{20})});
    CHECK(progress.days.size() == 7);
    for (const TimedSeries& series : progress.timed) {
        for (const TimedPoint& point : series.points) {
            CHECK(point.day >= first);
            CHECK(point.day <= last);
        }
    }
    CHECK(progress.timed.at(0).weeks.at(0).week == 2);  // days 11 to 17 of the record
}

}  // namespace
}  // namespace holdwell
