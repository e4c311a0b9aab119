// Two ratings and a remark; closes the practice, then shows what it came to.

#include "app/pages/client_blocks.h"
#include "app/pages/pages.h"
#include "app/pages/row_page.h"
#include "app/practice/cautions.h"

namespace holdwell {
namespace {

constexpr std::size_t kLongestRemark = 600;  // bytes here; letters at most as many

class AfterPracticePage final : public RowPage {
public:
    explicit AfterPracticePage(AfterPracticeFor setup) : setup_{std::move(setup)} {}

protected:
    void heard(const Answer& answer) override;
    void go_back() override { close(); }
    std::string escape_does() const override { return "leave it at that"; }
    Sheet lay_out() override;

private:
    void lay_out_questions(Sheet& sheet);
    void lay_out_advice(Sheet& sheet);
    std::optional<SelfRating> rating() const;
    void done();
    void close();

    AfterPracticeFor setup_;
    std::optional<int> effort_;
    std::optional<int> discomfort_;
    std::string remark_;
    std::string missing_;
    bool closing_{false};
};

std::optional<SelfRating> AfterPracticePage::rating() const
{
    if (!effort_ || !discomfort_) return std::nullopt;
    return SelfRating{.effort = *effort_, .discomfort = *discomfort_};
}

Sheet AfterPracticePage::lay_out()
{
    Sheet sheet;
    sheet.title = "How was it?";
    sheet.lead = "Two questions, then you are done.";
    lay_out_questions(sheet);
    lay_out_advice(sheet);
    sheet.button({.label = "Done", .meaning = "What you sang is kept already.", .does = "finish"},
                 [this] { done(); });
    sheet.notice = missing_;
    return sheet;
}

void AfterPracticePage::lay_out_questions(Sheet& sheet)
{
    sheet.scale({.label = kEffortRating.question,
                 .low = kEffortRating.at_0,
                 .high = kEffortRating.at_10,
                 .value = effort_},
                [this](int to) { effort_ = to; });
    sheet.scale({.label = kDiscomfortRating.question,
                 .low = kDiscomfortRating.at_0,
                 .high = kDiscomfortRating.at_10,
                 .value = discomfort_},
                [this](int to) { discomfort_ = to; });
    sheet.text({.label = "Anything to tell your therapist?",
                .text = remark_,
                .meaning = "You may leave it empty."},
               [this](const std::string& text) {
                   if (text.size() <= kLongestRemark) remark_ = text;
               });
}

void AfterPracticePage::lay_out_advice(Sheet& sheet)
{
    std::optional<Advice> advice;
    if (setup_.practice.completion == Completion::stopped_for_discomfort)
        advice = advice_on_discomfort();
    if (const auto rated = rating()) {
        const Advice on_rating = advice_after(*rated);
        if (!advice || on_rating.consequence > advice->consequence) advice = on_rating;
    }
    if (!advice || advice->consequence == Consequence::go_on) return;
    sheet.say(advice->title, paragraph_of(*advice), TextBlock::Weight::large);
}

void AfterPracticePage::done()
{
    const bool only_one = effort_.has_value() != discomfort_.has_value();
    missing_.clear();
    if (only_one) {
        missing_ = effort_ ? "One question is left: any discomfort?"
                           : "One question is left: how "
                             "much effort?";
        focus_on(effort_ ? kDiscomfortRating.question : kEffortRating.question);
        return;
    }
    close();
}

void AfterPracticePage::close()
{
    if (closing_) return;
    closing_ = true;
    Practice& practice = setup_.practice;
    practice.rating = rating();
    practice.remark = remark_;
    const bool hurt = practice.rating && practice.rating->discomfort >= kDiscomfortToStop;
    if (practice.completion == Completion::partial && hurt)
        practice.completion = Completion::stopped_for_discomfort;
    wish(Ask{ClosePractice{practice}});
}

void AfterPracticePage::heard(const Answer& answer)
{
    if (!closing_) return;
    const bool closed = std::holds_alternative<PracticeClosed>(answer);
    // What was sung is kept with each trial; the words at the end come all the same.
    if (!closed && !std::holds_alternative<Refused>(answer)) return;
    closing_ = false;
    wish(ReplacePage{summary_page(setup_.client.id, setup_.practice)});
}

}  // namespace

std::unique_ptr<Page> after_practice_page(AfterPracticeFor setup)
{
    return make_page<AfterPracticePage>(std::move(setup));
}

}  // namespace holdwell
