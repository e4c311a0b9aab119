#include "tests/support/desk/desk_cases.h"

#include <array>

#include <fmt/format.h>

#include "app/practice/taper.h"
#include "tests/support/random.h"
#include "tests/support/records/course.h"
#include "tests/support/records/plan_examples.h"

namespace holdwell::test {
namespace {

using std::chrono::days;

constexpr int kEightWeeks = 56;
constexpr int kThreeYears = 3 * 365;

OpenedClient opened_with(ClientFile file, ClipsHeld clips)
{
    ClientOpened opened;
    opened.file = std::move(file);
    opened.clips = clips;
    opened.today = kDeskToday;
    return std::make_shared<const ClientOpened>(std::move(opened));
}

Course course_of(int length)
{
    Course course;
    course.days = length;
    course.begins = day_after(kDeskToday, -days{length - 1});
    return course;
}

Id id_of(int n) { return {fmt::format("{:032x}", n + 1)}; }

RosterLine line_of(int n, std::string code)
{
    RosterLine line;
    line.client = id_of(n);
    line.code = std::move(code);
    return line;
}

}  // namespace

OpenedClient eight_weeks()
{
    ClientFile file = record_of(course_of(kEightWeeks));
    file.plans.back().taper = usual_taper(file.plans.back().drills);
    file.practices.back().remark = "Easier in the morning. The high notes feel lighter now.";
    return opened_with(std::move(file), {.count = 212, .bytes = 48'300'000});
}

OpenedClient nothing_yet()
{
    ClientFile file;
    file.client.id = id_of(0);
    file.client.code = "C-105";
    file.client.since = kDeskToday;
    return opened_with(std::move(file), {});
}

OpenedClient three_years()
{
    Course course = course_of(kThreeYears);
    course.code = "Größenordnung-Übungsgruppe-Łódź-2023-B-7";
    course.most_missed_in_ten = 2;
    ClientFile file = record_of(course);
    Plan plan = plan_with_everything();
    plan.revision = 37;
    plan.goal = file.plans.back().goal;
    plan.written = day_after(kDeskToday, -days{20});
    plan.title =
        "Practice for the weeks before the choir's summer concert, gently at first and more";
    plan.title = plan.title.substr(0, 80);
    file.plans.push_back(plan);
    OnsetBaselineRecord labelled;
    labelled.labelled = day_after(kDeskToday, -days{400});
    labelled.onsets.resize(24);
    file.client.onset_baseline = labelled;
    file.client.keeps_audio = true;
    file.practices.back().remark = std::string(600, 'm');
    return opened_with(std::move(file), {.count = 8'640, .bytes = 3'456'000'000});
}

std::vector<RosterLine> twelve_clients()
{
    struct Given {
        const char* code;
        int days_ago;
        int done;
        double share;
    };
    constexpr std::array kGiven{
        Given{"A-01", 0, 12, 0.62},  Given{"A-02", 1, 14, 0.97}, Given{"B-11", 9, 0, 0.0},
        Given{"C-104", 0, 13, 1.04}, Given{"C-105", -1, 0, 0.0}, Given{"D-7", 3, 5, 0.48},
        Given{"É-3", 2, 8, 0.71},    Given{"F-19", 0, 11, 0.88}, Given{"G-2", 31, 0, 0.0},
        Given{"H-40", 1, 10, 0.55},  Given{"K-8", 0, 14, 0.66},  Given{"M-6", 75, 0, 0.0}};
    std::vector<RosterLine> lines;
    for (const Given& given : kGiven) {
        RosterLine line = line_of(static_cast<int>(lines.size()), given.code);
        if (given.days_ago >= 0) line.last_practice = day_after(kDeskToday, -days{given.days_ago});
        line.practices_this_week = given.done;
        line.asked_a_week = 14;
        if (given.share > 0.0) line.goal_share = given.share;
        line.reported_discomfort = line.code == "D-7";
        if (line.code == "M-6") line.standing = Standing::archived;
        lines.push_back(std::move(line));
    }
    return lines;
}

std::vector<RosterLine> a_thousand_clients()
{
    Random random{7};
    std::vector<RosterLine> lines;
    for (int n = 0; n < 1000; ++n) {
        RosterLine line = line_of(n, fmt::format("Übungsgruppe-der-Klinik-am-See-{:04}", n));
        line.last_practice = day_after(kDeskToday, -days{random.below(200)});
        const int away = static_cast<int>(days_between(*line.last_practice, kDeskToday).count());
        line.practices_this_week = away < 7 ? 1 + random.below(14) : 0;
        line.asked_a_week = 14;
        if (away < 7) line.goal_share = random.uniform(0.2, 1.2);
        line.reported_discomfort = random.below(9) == 0;
        lines.push_back(std::move(line));
    }
    return lines;
}

std::vector<Plan> some_templates()
{
    Plan higher;
    higher.title = "Higher voice, twice a day";
    Plan lower = higher;
    lower.title = "Lower voice, twice a day";
    lower.voice = notes_of(VoiceSet::lower);
    Plan gently = higher;
    gently.title = "A first week, gently";
    gently.practices_a_day = 1;
    gently.weeks = 1;
    gently.drills = {{DrillKind::warm_up_hold, 2}, {DrillKind::rising_glide, 1}};
    return {higher, lower, gently};
}

}  // namespace holdwell::test
