// Where pages, the records and the calendar meet: whose refusal it is, whose voice, which day.

#include <doctest/doctest.h>

#include <chrono>
#include <memory>
#include <string>
#include <vector>

#include "app/ui/view_model.h"
#include "tests/app/ui/practising.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

class AskingPage : public Page {
public:
    PageView view() const override { return {.title = "A page"}; }
    void act(const PageEvent& event) override
    {
        if (std::get_if<PressKey>(&event) == nullptr) return;
        if (opens) return wish(OpenPage{std::move(opens)});
        if (starts) return wish(*starts);
        wish(Ask{ListClients{}});
    }
    void hear(const Answer& answer) override
    {
        if (const auto* refused = std::get_if<Refused>(&answer))
            refusals.push_back(refused->sentence);
    }
    void opened() override { ++times_opened; }

    std::unique_ptr<Page> opens;
    std::optional<StartPractice> starts;
    std::vector<std::string> refusals;
    int times_opened{0};
};

struct Shown {
    explicit Shown(WindowOptions options = {})
    {
        options.opens_on = OpensOn::page;
        vm.emplace(options, practised());
        auto made = std::make_unique<AskingPage>();
        page = made.get();
        vm->open_page(std::move(made));
        vm->take_commands();
    }
    void press() { vm->apply(Event{PressKey{.key = PressKey::Key::proceed}}); }
    std::optional<ViewModel> vm;
    AskingPage* page{nullptr};
};

Refused no(const char* why, RequestNumber of)
{
    return {.sentence = why, .wants_passphrase = false, .of = of};
}

constexpr Date day(unsigned of_month)
{
    return {std::chrono::year{2026}, std::chrono::November, std::chrono::day{of_month}};
}

StartPractice start()
{
    StartPractice wish;
    wish.client.id = Id{"client"};
    wish.plan.drills = {{DrillKind::warm_up_hold, 2}};
    return wish;
}

}  // namespace

TEST_CASE("a refusal reaches the page that asked, and no other that waits")
{
    Shown shown;
    shown.press();
    const auto first = shown.vm->take_requests();
    REQUIRE(first.size() == 1);
    auto above = std::make_unique<AskingPage>();
    AskingPage* second = above.get();
    shown.page->opens = std::move(above);
    shown.press();
    shown.press();
    const auto later = shown.vm->take_requests();
    REQUIRE(later.size() == 1);
    CHECK(first.front().number != later.front().number);

    shown.vm->apply(Answer{no("for the first", first.front().number)});
    CHECK(shown.page->refusals == std::vector<std::string>{"for the first"});
    CHECK(second->refusals.empty());
    shown.vm->apply(Answer{no("for the second", later.front().number)});
    CHECK(second->refusals == std::vector<std::string>{"for the second"});
    CHECK(shown.page->refusals.size() == 1);
}

TEST_CASE("a practice that waits for its beginning takes no other's refusal for its own")
{
    Shown shown;
    shown.press();
    const auto earlier = shown.vm->take_requests();
    REQUIRE(earlier.size() == 1);
    shown.page->starts = start();
    shown.press();
    RequestNumber beginning;
    for (const Asked& asked : shown.vm->take_requests())
        if (std::holds_alternative<BeginPractice>(asked.request)) beginning = asked.number;
    CHECK(beginning != RequestNumber{});
    shown.vm->apply(Answer{no("the list", earlier.front().number)});
    CHECK(shown.vm->screen() == Screen::page);
    shown.vm->apply(Answer{no("the disk is gone", beginning)});
    CHECK(shown.vm->screen() == Screen::practice);
    CHECK(practice(*shown.vm).notice == "the disk is gone");
    CHECK(shown.page->refusals == std::vector<std::string>{"the list"});
}

TEST_CASE("a page left open over midnight is opened anew, once, and not before")
{
    Shown shown;
    CHECK(shown.page->times_opened == 1);
    shown.vm->apply(DayIs{day(24)});
    shown.vm->apply(DayIs{day(24)});
    CHECK(shown.page->times_opened == 1);
    shown.vm->apply(DayIs{day(25)});
    CHECK(shown.page->times_opened == 2);
    shown.vm->apply(DayIs{day(25)});
    CHECK(shown.page->times_opened == 2);
}

TEST_CASE("help that was open at midnight leads back to a page of the new day")
{
    Shown shown;
    shown.vm->apply(DayIs{day(24)});
    shown.vm->apply(Event{Action::open_help});
    REQUIRE(shown.vm->screen() == Screen::help);
    shown.vm->apply(DayIs{day(25)});
    CHECK(shown.page->times_opened == 1);
    shown.vm->apply(Event{Action::back});
    shown.vm->apply(DayIs{day(25)});
    CHECK(shown.page->times_opened == 2);
}

TEST_CASE("a practice begun while a recording plays listens to the microphone instead")
{
    WindowOptions options;
    options.source = SoundSource::recording;
    options.demos = {{"somebody.flac"}};
    Shown shown{options};
    shown.page->starts = start();
    shown.press();
    CHECK(count<ReopenMicrophone>(shown.vm->take_commands()) == 1);
    for (const Asked& asked : shown.vm->take_requests())
        if (std::holds_alternative<BeginPractice>(asked.request))
            shown.vm->apply(Answer{PracticeBegun{Practice{.id = Id{"practice"}}}});
    // Her own voice is waited for, from the posture on; a recording would be taken up at once.
    CHECK(practice(*shown.vm).line ==
          "Sit or stand tall, shoulders loose. Breathe in low and slow.");
    // What sounds goes on to be heard: the microphone's.
    CHECK(count<PlayRecording>(shown.vm->take_commands()) == 0);
}

TEST_CASE("in records to look around in, a recording may be practised with")
{
    WindowOptions options;
    options.source = SoundSource::recording;
    options.demos = {{"somebody.flac"}};
    options.records = RecordsOf::example;
    Shown shown{options};
    shown.page->starts = start();
    shown.press();
    CHECK(count<ReopenMicrophone>(shown.vm->take_commands()) == 0);
}
