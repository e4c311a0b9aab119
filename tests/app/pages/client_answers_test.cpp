// What a client answers by single keys, and what pages say of days that were done in part.

#include <doctest/doctest.h>

#include "app/pages/client_blocks.h"
#include "app/pages/pages.h"
#include "app/practice/cautions.h"
#include "tests/app/pages/turning.h"

using namespace holdwell;
using namespace holdwell::test::turning;

namespace {

constexpr Date kToday{std::chrono::year{2026}, std::chrono::April, std::chrono::day{26}};

std::unique_ptr<Page> questions()
{
    const Client client;
    const Plan plan;
    return before_practice_page({.client = client, .plan = plan});
}

std::string answer_at(const Page& page, std::size_t row) { return rows_of(page.view())[row].value; }

HomeLoaded home_with(const Practice& practice)
{
    HomeLoaded home;
    home.file.client.id = Id{"client"};
    home.file.plans.emplace_back();
    home.today = kToday;
    home.file.practices.push_back(practice);
    return home;
}

Practice practised(int trials, Completion completion)
{
    Practice practice;
    practice.id = Id{"of today"};
    practice.begun = {kToday, {}};
    practice.trials_asked = 16;
    practice.completion = completion;
    for (int i = 1; i <= trials; ++i) {
        Trial trial;
        trial.id = Id{std::to_string(i)};
        trial.number = i;
        trial.target = kF4;
        practice.trials.push_back(trial);
    }
    return practice;
}

std::unique_ptr<Page> today_of(const HomeLoaded& home)
{
    auto page = today_page();
    page->opened();
    page->hear(Answer{home});
    return page;
}

const DaysBlock* days_of(const PageView& view)
{
    for (const PageBlock& block : view.blocks)
        if (const auto* days = std::get_if<DaysBlock>(&block)) return days;
    return nullptr;
}

}  // namespace

TEST_CASE("the questions beforehand are answered with Y and N, one after the other")
{
    const auto page = questions();
    CHECK(page->view().focused == 0);
    press_letter(*page, 'N');
    CHECK(page->view().focused == 1);
    press_letter(*page, 'Y');
    CHECK(page->view().focused == 2);
    CHECK(answer_at(*page, 0) == "no");
    CHECK(answer_at(*page, 1) == "yes");
    press_letter(*page, 'N');
    press_letter(*page, 'N');
    CHECK(page->view().focused == static_cast<int>(before_questions().size()));
    press_letter(*page, 'Y');  // the button is no question
    CHECK(answer_at(*page, 3) == "no");
    press(*page, PressKey::Key::up);
    press_letter(*page, 'Y');
    CHECK(answer_at(*page, 3) == "yes");
}

TEST_CASE("Enter or Space on a scale without a number asks for one, and does not go on")
{
    const Client client;
    const Plan plan;
    const auto page =
        after_practice_page({.client = client, .plan = plan, .practice = practised(3, {})});
    for (const PressKey::Key key : {PressKey::Key::proceed, PressKey::Key::space}) {
        press(*page, key);
        CHECK(page->view().focused == 0);
        CHECK(page->view().notice.find("Choose a number") == 0);
    }
    press_letter(*page, '3');
    CHECK(page->view().notice.empty());
    press(*page, PressKey::Key::proceed);
    CHECK(page->view().focused == 1);
    press(*page, PressKey::Key::down);  // left out
    CHECK(page->view().focused == 2);
}

TEST_CASE("with all trials sung, today asks for the two answers that are left")
{
    HomeLoaded home = home_with(practised(0, Completion::complete));
    Practice open = practised(16, Completion::under_way);
    home.unfinished = open;
    const auto sung = today_of(home);
    CHECK(sung->view().lead == "You sang it all. Two questions are left, then it is done.");
    CHECK(sung->view().keys[0].does == "answer");
    open.trials.resize(5);
    home.unfinished = open;
    CHECK(today_of(home)->view().keys[0].does == "go on");
}

TEST_CASE("a day of one trial of sixteen is part of a practice, in the picture and in words")
{
    const auto part = today_of(home_with(practised(1, Completion::partial)));
    const PageView view = part->view();
    const DaysBlock* days = days_of(view);
    REQUIRE(days != nullptr);
    int done = 0;
    int partly = 0;
    for (const auto& day : days->days) {
        done += day.done;
        partly += day.partly;
    }
    CHECK(done == 1);
    CHECK(partly == 1);
    CHECK(days->summary == "Week 1: 1 practice so far, part of the way");
    const auto whole = today_of(home_with(practised(16, Completion::complete)));
    CHECK(says(*whole, "1 practice so far"));
    CHECK_FALSE(says(*whole, "part of the way"));
}

TEST_CASE("records to look around in are said to be none of one's own")
{
    HomeLoaded home = home_with(practised(1, Completion::partial));
    CHECK(today_of(home)->view().notice.empty());
    home.lasting = Lasting::until_closed;
    CHECK(says(*today_of(home), "nothing of it is kept"));
}

TEST_CASE("breaks in glides are said as one would say them")
{
    HomeLoaded home = home_with(practised(0, Completion::complete));
    Practice& practice = home.file.practices.front();
    for (int i = 1; i <= 10; ++i) {
        Trial trial;
        trial.id = Id{"glide " + std::to_string(i)};
        trial.number = i;
        trial.kind = DrillKind::rising_glide;
        GlideMeasures glide;
        glide.length = Seconds{4.0};
        glide.lowest = Hertz{220.0};
        glide.highest = Hertz{440.0};
        glide.jumps = i <= 7 ? 1 : 0;  // seven in ten
        trial.measures = glide;
        practice.trials.push_back(trial);
    }
    Trial hold;
    hold.id = Id{"hold"};
    hold.number = 11;
    hold.target = kF4;
    HoldMeasures measures;
    measures.hold_time = Seconds{9.0};
    hold.measures = measures;
    practice.trials.push_back(hold);
    const auto page = client_progress_page(Id{"client"});
    page->opened();
    ClientOpened opened;
    opened.file = home.file;
    opened.today = kToday;
    page->hear(Answer{opened});
    INFO(words_of(page->view()));
    CHECK(says(*page, "A break in most glides this week."));
    CHECK_FALSE(says(*page, "0.7"));
}
