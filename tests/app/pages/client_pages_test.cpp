// The client's pages, driven by keys and answers.

#include <doctest/doctest.h>

#include "app/pages/pages.h"
#include "app/practice/cautions.h"
#include "tests/app/pages/turning.h"
#include "tests/support/records/course.h"

using namespace holdwell;
using namespace holdwell::test;
using namespace holdwell::test::turning;

namespace {

constexpr Date kToday{std::chrono::year{2026}, std::chrono::April, std::chrono::day{26}};

HomeLoaded empty_home()
{
    HomeLoaded home;
    home.file.client.id = Id{"client"};
    home.file.plans.emplace_back();
    home.today = kToday;
    return home;
}

// Eight weeks up to yesterday.
HomeLoaded full_home()
{
    HomeLoaded home;
    home.file = record_of({.days = 55});
    home.today = kToday;
    return home;
}

Practice sung_today(int trials)
{
    Practice practice;
    practice.id = Id{"of today"};
    practice.begun = {kToday, {}};
    practice.trials_asked = 14;
    practice.completion = Completion::complete;
    for (int i = 1; i <= trials; ++i) {
        Trial trial;
        trial.id = Id{std::to_string(i)};
        trial.number = i;
        trial.target = kF4;
        HoldMeasures hold;
        hold.hold_time = Seconds{10.0};
        trial.measures = hold;
        practice.trials.push_back(trial);
    }
    return practice;
}

std::unique_ptr<Page> asked_before(const Client& client)
{
    const Plan plan;
    return before_practice_page({.client = client, .plan = plan});
}

std::unique_ptr<Page> asked_after(const Practice& practice)
{
    const Client client;
    const Plan plan;
    return after_practice_page({.client = client, .plan = plan, .practice = practice});
}

std::unique_ptr<Page> opened_today(const HomeLoaded& home)
{
    auto page = today_page();
    page->opened();
    REQUIRE(request_of<LoadHome>(*page));
    page->hear(Answer{home});
    return page;
}

}  // namespace

TEST_CASE("today says which practice is next, and Enter leads to it")
{
    const auto page = opened_today(full_home());
    CHECK(page->view().lead == "First of two practices.");
    REQUIRE_FALSE(page->view().keys.empty());
    CHECK(page->view().keys[0].does == "begin");
    press(*page, PressKey::Key::proceed);
    const auto opens = wish_of<OpenPage>(*page);
    REQUIRE(opens);
    CHECK(opens->page->view().title == "Before you begin");
}

TEST_CASE("today counts what was done, advises rest in time, and never mentions a missed day")
{
    HomeLoaded home = full_home();
    home.file.practices.push_back(sung_today(14));
    CHECK(opened_today(home)->view().lead == "Second of two practices.");
    home.file.practices.push_back(sung_today(14));
    const auto page = opened_today(home);
    CHECK(page->view().lead == "That is enough for today. Let your voice rest.");
    CHECK(page->view().keys[0].does == "look");
    for (const char* word : {"missed", "fail", "behind", "should have", "only"})
        CHECK_FALSE(says(*page, word));
}

TEST_CASE("a first-time client is told how it goes, and chooses the notes that suit her")
{
    const auto page = opened_today(empty_home());
    CHECK(says(*page, "Each note is played"));
    go_to(*page, "Notes");
    press(*page, PressKey::Key::right);
    CHECK(says(*page, "for a lower voice"));
    go_to(*page, "Begin the practice");
    press(*page, PressKey::Key::proceed);
    const auto save = request_of<SavePlan>(*page);
    REQUIRE(save);
    CHECK(save->plan.voice.warm_up == kF3);
    page->hear(Answer{PlanSaved{save->client, save->plan}});
    CHECK(wish_of<OpenPage>(*page));
}

TEST_CASE("a practice that was interrupted today is offered to be gone on with")
{
    HomeLoaded home = full_home();
    Practice open = sung_today(5);
    open.completion = Completion::under_way;
    open.plan = home.file.plans.back().id;
    open.plan_revision = home.file.plans.back().revision;
    home.unfinished = open;
    const auto page = opened_today(home);
    CHECK(says(*page, "5 of 14 are done and kept."));
    press(*page, PressKey::Key::proceed);
    const auto start = wish_of<StartPractice>(*page);
    REQUIRE(start);
    REQUIRE(start->already);
    CHECK(start->already->trials.size() == 5);
}

TEST_CASE("letters on today lead to progress, one drill, the cautions, and out by Escape")
{
    const auto page = opened_today(full_home());
    press_letter(*page, 'P');
    CHECK(wish_of<OpenPage>(*page));
    press_letter(*page, 'R');
    CHECK(wish_of<OpenPracticeRoom>(*page));
    press_letter(*page, 'H');
    CHECK(wish_of<OpenCautions>(*page));
    press(*page, PressKey::Key::back);
    CHECK(wish_of<LeaveProgram>(*page));
}

TEST_CASE("trouble with the records is said on today")
{
    HomeLoaded home = empty_home();
    home.notice = "Kept in memory for now: the disk is full.";
    CHECK(opened_today(home)->view().notice == home.notice);
}

TEST_CASE(
    "when nothing speaks against it, one key goes past every question and begins the practice")
{
    const auto page = asked_before({});
    for (std::size_t i = 0; i < before_questions().size(); ++i) {
        press(*page, PressKey::Key::proceed);
        CHECK_FALSE(wish_of<StartPractice>(*page));
    }
    press(*page, PressKey::Key::proceed);
    const auto start = wish_of<StartPractice>(*page);
    REQUIRE(start);
    CHECK_FALSE(start->before.any());
}

TEST_CASE("any yes beforehand means no drills, advice, and a day that is accounted for")
{
    for (const QuestionText& asked : before_questions()) {
        CAPTURE(asked.text);
        Client client;
        client.id = Id{"client"};
        const auto page = asked_before(client);
        go_to(*page, asked.text);
        press(*page, PressKey::Key::right);
        go_to(*page, "No practice today");
        press(*page, PressKey::Key::proceed);
        const auto begin = request_of<BeginPractice>(*page);
        REQUIRE(begin);
        CHECK(begin->practice.before.any());
        Practice begun = begin->practice;
        begun.id = Id{"noted"};
        page->hear(Answer{PracticeBegun{begun}});
        const auto close = request_of<ClosePractice>(*page);
        REQUIRE(close);
        CHECK(close->practice.id == Id{"noted"});
        CHECK(close->practice.completion == Completion::not_today);
        page->hear(Answer{PracticeClosed{close->practice, ""}});
        CHECK(says(*page, "Not today"));
        press(*page, PressKey::Key::proceed);
        CHECK(wish_of<ClosePage>(*page));
    }
}

TEST_CASE("a digit rates the question in focus")
{
    Practice practice = sung_today(2);
    const auto page = asked_after(practice);
    press_letter(*page, '4');
    press(*page, PressKey::Key::down);
    press_letter(*page, '0');
    press(*page, PressKey::Key::down);
    press(*page, PressKey::Key::down);
    press(*page, PressKey::Key::proceed);
    const auto close = request_of<ClosePractice>(*page);
    REQUIRE(close);
    REQUIRE(close->practice.rating);
    CHECK(close->practice.rating->effort == 4);
    CHECK(close->practice.rating->discomfort == 0);
}

TEST_CASE("the two ratings are kept with the remark, and what they call for is said")
{
    Practice practice = sung_today(2);
    practice.completion = Completion::partial;
    const auto page = asked_after(practice);
    for (int i = 0; i < 4; ++i) press(*page, PressKey::Key::right);  // effort 3
    press(*page, PressKey::Key::down);
    for (int i = 0; i < 7; ++i) press(*page, PressKey::Key::right);  // discomfort 6
    const Advice advice = advice_after({.effort = 3, .discomfort = 6});
    CHECK(advice.consequence >= Consequence::stop_for_today);
    CHECK(says(*page, advice.sentences.at(0)));
    press(*page, PressKey::Key::down);
    page->act(TypeText{"a dry throat, h\u00e9las"});
    go_to(*page, "Done");
    press(*page, PressKey::Key::proceed);
    const auto close = request_of<ClosePractice>(*page);
    REQUIRE(close);
    CHECK(close->practice.rating == SelfRating{.effort = 3, .discomfort = 6});
    CHECK(close->practice.remark == "a dry throat, h\u00e9las");
    CHECK(close->practice.completion == Completion::stopped_for_discomfort);
    page->hear(Answer{PracticeClosed{close->practice, ""}});
    CHECK(wish_of<ReplacePage>(*page));
}

TEST_CASE("answers that could not be kept are said not to be, and can be kept or left")
{
    const Practice practice = sung_today(2);
    const auto page = asked_after(practice);
    page->hear(Answer{Refused{.sentence = "Somebody else's request failed."}});
    CHECK(page->view().notice.empty());
    go_to(*page, "Anything to tell your therapist?");
    page->act(TypeText{"a dry throat"});
    go_to(*page, "Done");
    press(*page, PressKey::Key::proceed);
    REQUIRE(request_of<ClosePractice>(*page));
    page->hear(Answer{Refused{.sentence = "The disk is full."}});
    CHECK_FALSE(wish_of<ReplacePage>(*page));
    CHECK(says(*page, "The disk is full."));
    SUBCASE("kept by Done")
    {
        go_to(*page, "Done");
        press(*page, PressKey::Key::proceed);
        const auto again = request_of<ClosePractice>(*page);
        REQUIRE(again);
        CHECK(again->practice.remark == "a dry throat");
        Practice another = again->practice;
        another.id = Id{"of another day"};
        page->hear(Answer{PracticeClosed{another, ""}});
        CHECK_FALSE(wish_of<ReplacePage>(*page));
        page->hear(Answer{PracticeClosed{again->practice, ""}});
        CHECK(wish_of<ReplacePage>(*page));
    }
    SUBCASE("left by Escape")
    {
        press(*page, PressKey::Key::back);
        CHECK(wish_of<ReplacePage>(*page));
    }
}

TEST_CASE("one rating without the other is asked about, and neither is accepted")
{
    const Practice practice = sung_today(2);
    const auto page = asked_after(practice);
    press(*page, PressKey::Key::right);
    go_to(*page, "Done");
    press(*page, PressKey::Key::proceed);
    CHECK_FALSE(request_of<ClosePractice>(*page));
    CHECK(page->view().notice == "One question is left: any discomfort?");
    press(*page, PressKey::Key::back);
    const auto close = request_of<ClosePractice>(*page);
    REQUIRE(close);
    CHECK_FALSE(close->practice.rating);
    CHECK(close->practice.completion == Completion::complete);
}

TEST_CASE("what it came to is said in words, then Enter goes back")
{
    HomeLoaded home = full_home();
    const Practice practice = home.file.practices.back();
    const auto page = summary_page(home.file.client.id, practice);
    page->opened();
    REQUIRE(request_of<OpenClient>(*page));
    ClientOpened opened;
    opened.file = home.file;
    opened.today = kToday;
    page->hear(Answer{opened});
    std::size_t sentences = 0;
    for (const PageBlock& block : page->view().blocks)
        if (std::holds_alternative<TextBlock>(block)) ++sentences;
    CHECK(sentences >= 1);
    press(*page, PressKey::Key::proceed);
    CHECK(wish_of<ClosePage>(*page));
}

TEST_CASE("progress shows first, then says: each note by itself, without /s/ and without a grade")
{
    const HomeLoaded home = full_home();
    const auto page = client_progress_page(home.file.client.id);
    page->opened();
    REQUIRE(request_of<OpenClient>(*page));
    CHECK(says(*page, "One moment"));
    ClientOpened opened;
    opened.file = home.file;
    opened.today = kToday;
    page->hear(Answer{opened});
    const PageView view = page->view();
    std::optional<std::size_t> first_chart;
    std::optional<std::size_t> first_words;
    for (std::size_t i = 0; i < view.blocks.size(); ++i) {
        if (const auto* chart = std::get_if<ChartBlock>(&view.blocks[i])) {
            if (!first_chart) first_chart = i;
            CHECK(chart->title.find("/s/") == std::string::npos);
            CHECK_FALSE(chart->points.empty());
            for (const ChartBlock::Point& point : chart->points) {
                CHECK(point.value <= chart->last_value);
                CHECK(point.day >= 0.0);
                CHECK(point.day <= chart->days);
            }
        }
        const auto* text = std::get_if<TextBlock>(&view.blocks[i]);
        if (text != nullptr && !first_words) first_words = i;
    }
    REQUIRE(first_chart);
    REQUIRE(first_words);
    CHECK(*first_chart < *first_words);
    for (const char* word : {"score", "grade", "normal", "bad", "poor", "s/z"})
        CHECK_FALSE(says(*page, word));
}

TEST_CASE("the pictures of a first day have their point under today, and no line through it")
{
    ClientOpened opened;
    opened.file = empty_home().file;
    opened.file.practices.push_back(sung_today(2));
    opened.today = kToday;
    const auto page = client_progress_page(Id{"client"});
    page->opened();
    page->hear(Answer{opened});
    int charts = 0;
    for (const PageBlock& block : page->view().blocks) {
        const auto* chart = std::get_if<ChartBlock>(&block);
        if (chart == nullptr) continue;
        ++charts;
        CHECK(chart->points.size() == 2);
        CHECK(chart->line.empty());
        REQUIRE(chart->day_names.size() == 1);
        CHECK(chart->day_names[0].second == "today");
        CHECK(chart->points[0].day >= chart->day_names[0].first);
        CHECK(chart->points[0].day < chart->day_names[0].first + 1.0);
    }
    CHECK(charts == 1);
}

TEST_CASE("progress of nobody yet says when it begins")
{
    const auto page = client_progress_page(Id{"client"});
    page->opened();
    ClientOpened opened;
    opened.file = empty_home().file;
    opened.today = kToday;
    page->hear(Answer{opened});
    CHECK(says(*page, "it begins with your first practice"));
}
