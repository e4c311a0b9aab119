// Four questions before a practice. Any yes: no drills today, and what to do instead.

#include <array>

#include "app/pages/client_blocks.h"
#include "app/pages/pages.h"
#include "app/pages/row_page.h"
#include "app/practice/cautions.h"

namespace holdwell {
namespace {

class BeforePracticePage final : public RowPage {
public:
    explicit BeforePracticePage(BeforePracticeFor setup) : setup_{std::move(setup)} {}

protected:
    void heard(const Answer& answer) override;
    Sheet lay_out() override;

private:
    void lay_out_questions(Sheet& sheet);
    enum class Said { yes, no };
    void answer_in_focus(Said said);
    bool& answer_to(BeforeQuestion question);
    void begin_or_note();
    void note_it();

    BeforePracticeFor setup_;
    BeforePractice answers_;
    enum class Noting { no, beginning, closing, done } noting_{Noting::no};
};

bool& BeforePracticePage::answer_to(BeforeQuestion question)
{
    switch (question) {
    case BeforeQuestion::pain:
        return answers_.pain;
    case BeforeQuestion::hoarser:
        return answers_.hoarser;
    case BeforeQuestion::unwell:
        return answers_.unwell;
    case BeforeQuestion::on_voice_rest:
        break;
    }
    return answers_.on_voice_rest;
}

Sheet BeforePracticePage::lay_out()
{
    Sheet sheet;
    sheet.title = "Before you begin";
    const std::optional<Advice> advice = advice_before(answers_);
    if (noting_ == Noting::done) sheet.title = "Not today";
    sheet.lead = advice ? advice->title : "Is any of this so today?";
    if (noting_ == Noting::done) {
        if (advice) sheet.say("", paragraph_of(*advice), TextBlock::Weight::large);
        sheet.button({.label = "Back to today", .does = "go back"}, [this] { wish(ClosePage{}); });
        sheet.notice = "It is noted, so that your therapist can see why.";
        return sheet;
    }
    // Questions first, and the focus on the first of them: none is skipped unread, however large
    // the words are.
    lay_out_questions(sheet);
    if (advice) {
        sheet.say("", paragraph_of(*advice), TextBlock::Weight::large);
        sheet.button(
            {.label = "No practice today", .does = "note it", .size = RowBlock::Size::large},
            [this] { begin_or_note(); });
    } else {
        sheet.button(
            {.label = "None of these: begin", .does = "begin", .size = RowBlock::Size::large},
            [this] { begin_or_note(); });
    }
    return sheet;
}

void BeforePracticePage::lay_out_questions(Sheet& sheet)
{
    for (const QuestionText& asked : before_questions()) {
        bool& answer = answer_to(asked.question);
        sheet.value({.label = asked.text,
                     .value = answer ? "yes" : "no",
                     .meaning = "Press Y for yes or N for no."},
                    [&answer](int) { answer = !answer; });
    }
    sheet.key({.key = "Y", .does = "yes", .letter = 'Y'}, [this] { answer_in_focus(Said::yes); });
    sheet.key({.key = "N", .does = "no", .letter = 'N'}, [this] { answer_in_focus(Said::no); });
}

// And on to the next question, or to the button below the last one.
void BeforePracticePage::answer_in_focus(Said said)
{
    for (const QuestionText& asked : before_questions()) {
        if (asked.text != focused_label()) continue;
        answer_to(asked.question) = said == Said::yes;
        return move_on();
    }
}

void BeforePracticePage::begin_or_note()
{
    if (answers_.any()) return note_it();
    wish(ClosePage{});
    wish(StartPractice{.client = setup_.client,
                       .plan = setup_.plan,
                       .kind = setup_.kind,
                       .before = answers_,
                       .already = setup_.already});
}

// Recorded like a practice, without a trial: a day with a reason is no missed day.
void BeforePracticePage::note_it()
{
    if (noting_ != Noting::no) return;
    noting_ = Noting::beginning;
    Practice practice;
    practice.client = setup_.client.id;
    practice.plan = setup_.plan.id;
    practice.plan_revision = setup_.plan.revision;
    practice.taper_step = setup_.plan.taper_step;
    practice.kind = setup_.kind;
    practice.before = answers_;
    practice.completion = Completion::not_today;
    wish(Ask{BeginPractice{practice}});
}

void BeforePracticePage::heard(const Answer& answer)
{
    if (noting_ == Noting::beginning) {
        if (const auto* begun = std::get_if<PracticeBegun>(&answer)) {
            Practice practice = begun->practice;
            practice.completion = Completion::not_today;
            noting_ = Noting::closing;
            wish(Ask{ClosePractice{practice}});
        }
    } else if (noting_ == Noting::closing && std::holds_alternative<PracticeClosed>(answer)) {
        noting_ = Noting::done;
    }
    // That it could not be noted changes nothing about the advice.
    const bool waits = noting_ == Noting::beginning || noting_ == Noting::closing;
    if (waits && std::holds_alternative<Refused>(answer)) wish(ClosePage{});
}

}  // namespace

std::unique_ptr<Page> before_practice_page(BeforePracticeFor setup)
{
    return make_page<BeforePracticePage>(std::move(setup));
}

}  // namespace holdwell
