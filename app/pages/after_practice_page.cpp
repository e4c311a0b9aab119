// Two ratings and a remark; closes the practice, then shows what it came to.

#include <utility>

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
    void go_back() override;
    std::string escape_does() const override { return "leave it at that"; }
    Sheet lay_out() override;

private:
    void lay_out_questions(Sheet& sheet);
    void lay_out_advice(Sheet& sheet);
    std::optional<SelfRating> rating() const;
    void done();
    void close();
    void leave();

    AfterPracticeFor setup_;
    std::optional<int> effort_;
    std::optional<int> discomfort_;
    std::string remark_;
    std::string notice_;
    std::optional<Practice> answered_;  // as its closing was last asked for
    enum class Closing { not_asked, asked, refused } closing_{Closing::not_asked};
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
    sheet.button({.label = "Done",
                  .meaning = "What you sang is kept already.",
                  .does = "finish",
                  .size = RowBlock::Size::large},
                 [this] { done(); });
    sheet.notice = notice_;
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
    notice_.clear();
    if (only_one) {
        notice_ = effort_ ? "One question is left: any discomfort?"
                          : "One question is left: how "
                            "much effort?";
        focus_on(effort_ ? kDiscomfortRating.question : kEffortRating.question);
        return;
    }
    close();
}

void AfterPracticePage::close()
{
    if (closing_ == Closing::asked) return;
    closing_ = Closing::asked;
    Practice practice = setup_.practice;
    practice.rating = rating();
    practice.remark = remark_;
    const bool hurt = practice.rating && practice.rating->discomfort >= kDiscomfortToStop;
    if (practice.completion == Completion::partial && hurt)
        practice.completion = Completion::stopped_for_discomfort;
    answered_ = practice;
    wish(Ask{ClosePractice{std::move(practice)}});
}

// Out even where nothing can be kept: then it was said before.
void AfterPracticePage::go_back()
{
    if (closing_ == Closing::refused)
        leave();
    else
        close();
}

void AfterPracticePage::leave() { wish(ReplacePage{summary_page(setup_.client.id, *answered_)}); }

void AfterPracticePage::heard(const Answer& answer)
{
    if (!answered_) return;
    const auto* closed = std::get_if<PracticeClosed>(&answer);
    if (closed != nullptr && closed->practice.id == answered_->id) leave();
    // What was sung is kept with each trial; her answers are not yet.
    const auto* refused = std::get_if<Refused>(&answer);
    if (refused == nullptr || closing_ != Closing::asked) return;
    closing_ = Closing::refused;
    notice_ = "Your answers are not kept yet. " + refused->sentence +
              " Press Done to try again, or Escape to leave without them.";
}

}  // namespace

std::unique_ptr<Page> after_practice_page(AfterPracticeFor setup)
{
    return make_page<AfterPracticePage>(std::move(setup));
}

}  // namespace holdwell
