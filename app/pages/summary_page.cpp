// What a practice came to, in words, on one page.

#include "app/pages/client_blocks.h"
#include "app/pages/pages.h"
#include "app/pages/row_page.h"
#include "app/practice/cautions.h"
#include "app/practice/summary.h"

namespace holdwell {
namespace {

class SummaryPage final : public RowPage {
public:
    SummaryPage(Id client, Practice practice)
        : client_{std::move(client)}, practice_{std::move(practice)}
    {
    }

protected:
    void shown() override { wish(Ask{OpenClient{client_}}); }
    void heard(const Answer& answer) override;
    Sheet lay_out() override;

private:
    void lay_out_advice(Sheet& sheet) const;

    Id client_;
    Practice practice_;
    std::vector<std::string> words_;
    std::string trouble_;
};

void SummaryPage::heard(const Answer& answer)
{
    if (const auto* opened = std::get_if<ClientOpened>(&answer)) {
        if (opened->file.client.id == client_) words_ = words_after(opened->file, practice_);
    }
    if (const auto* closed = std::get_if<PracticeClosed>(&answer)) trouble_ = closed->notice;
}

Sheet SummaryPage::lay_out()
{
    Sheet sheet;
    sheet.title = practice_.completion == Completion::complete ? "Well practised" : "Kept";
    sheet.lead = practice_.completion == Completion::complete
                     ? "That was the whole practice."
                     : "What you did is kept. Stopping in time is wise.";
    for (std::size_t i = 0; i < words_.size(); ++i) {
        sheet.say("", words_[i], i == 0 ? TextBlock::Weight::large : TextBlock::Weight::plain);
    }
    lay_out_advice(sheet);
    sheet.button({.label = "Back to today", .does = "go back"}, [this] { wish(ClosePage{}); });
    sheet.link({.label = "Your progress"},
               [this] { wish(OpenPage{client_progress_page(client_)}); });
    sheet.notice = trouble_;
    return sheet;
}

void SummaryPage::lay_out_advice(Sheet& sheet) const
{
    if (!practice_.rating) return;
    const Advice advice = advice_after(*practice_.rating);
    if (!advice.sentences.empty()) sheet.say(advice.title, paragraph_of(advice));
}

}  // namespace

std::unique_ptr<Page> summary_page(const Id& client, const Practice& practice)
{
    return make_page<SummaryPage>(client, practice);
}

}  // namespace holdwell
