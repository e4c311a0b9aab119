#include "app/pages/hand_entry.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/row_page.h"
#include "app/practice/cautions.h"

namespace holdwell {
namespace {

// The same for the same trial of the same practice, so that what was kept once is written over and
// not doubled when it is kept again. Its first digits are the practice's, which are random.
Id id_of_trial(const Id& practice, int number)
{
    constexpr std::size_t kReplaced = 4;  // hexadecimal digits: 65536 trials
    const std::size_t kept = practice.text.size() - std::min(practice.text.size(), kReplaced);
    return {practice.text.substr(0, kept) + fmt::format("{:04x}", number)};
}

// Kept in three steps, as a practice that is heard: begun, each trial, closed.
class HandEntryPage final : public RowPage {
public:
    explicit HandEntryPage(OpenedClient opened)
        : opened_{std::move(opened)}, plan_{opened_->file.plans.empty()
                                                ? Plan{}
                                                : opened_->file.plans.back()},
          entry_{blank_entry(plan_, opened_->today)}
    {
    }

protected:
    void heard(const Answer& answer) override;
    Sheet lay_out() override;

private:
    void keep();
    void keep_trials(const Practice& begun);
    void lay_out_when(Sheet& sheet);
    void lay_out_lines(Sheet& sheet);
    void lay_out_ratings(Sheet& sheet);

    OpenedClient opened_;
    Plan plan_;
    HandEntry entry_;
    Practice practice_;  // while it is being kept
    Id begun_as_;        // from the first answer on; empty: the records know nothing of it yet
    std::string fault_;
    bool is_waiting_{false};
};

void HandEntryPage::keep()
{
    if (is_waiting_) return;
    fault_.clear();
    if (!is_sound(entry_, opened_->today)) {
        fault_ = "It was not kept yet: look at the lines with a remark.";
        return;
    }
    practice_ = practice_of(entry_, opened_->file.client, plan_);
    practice_.id = begun_as_;
    is_waiting_ = true;
    Practice begun = practice_;
    begun.trials.clear();
    begun.completion = Completion::under_way;
    wish(Ask{BeginPractice{std::move(begun)}});
}

void HandEntryPage::keep_trials(const Practice& begun)
{
    begun_as_ = begun.id;
    practice_.id = begun.id;
    for (Trial& trial : practice_.trials) {
        trial.id = id_of_trial(begun.id, trial.number);
        wish(Ask{KeepTrial{.practice = begun.id, .trial = trial}});
    }
    Practice closed = practice_;
    closed.trials.clear();
    wish(Ask{ClosePractice{std::move(closed)}});
}

void HandEntryPage::heard(const Answer& answer)
{
    if (!is_waiting_) return;
    if (const auto* begun = std::get_if<PracticeBegun>(&answer)) keep_trials(begun->practice);
    if (const auto* closed = std::get_if<PracticeClosed>(&answer);
        closed && closed->practice.id == practice_.id) {
        is_waiting_ = false;
        wish(ClosePage{});
    }
    if (const auto* refused = std::get_if<Refused>(&answer)) {
        is_waiting_ = false;
        fault_ = refused->sentence;
    }
}

void HandEntryPage::lay_out_when(Sheet& sheet)
{
    sheet.text({.label = "Day", .text = entry_.day, .fault = fault_of_day(entry_, opened_->today)},
               [this](const std::string& text) { entry_.day = text; });
    sheet.text({.label = "Time", .text = entry_.time, .fault = fault_of_time(entry_)},
               [this](const std::string& text) { entry_.time = text; });
    sheet.value({.label = "It was", .value = completion_said(entry_.completion)}, [this](int) {
        entry_.completion =
            entry_.completion == Completion::complete ? Completion::partial : Completion::complete;
    });
}

void HandEntryPage::lay_out_lines(Sheet& sheet)
{
    sheet.say("Holds, in seconds", "One number for each trial; none where nothing was noted.");
    for (std::size_t i = 0; i < entry_.lines.size(); ++i) {
        const HandEntryLine& line = entry_.lines[i];
        sheet.text({.label = drill_on_note_said(line.kind, line.note),
                    .text = line.typed,
                    .meaning = "Apart by blanks: 12.5 14.",
                    .fault = fault_of_line(line)},
                   [this, i](const std::string& text) { entry_.lines[i].typed = text; });
    }
}

void HandEntryPage::lay_out_ratings(Sheet& sheet)
{
    const auto rated = [this] { return entry_.rating.value_or(SelfRating{}); };
    const auto effort = entry_.rating ? std::optional{entry_.rating->effort} : std::nullopt;
    const auto discomfort = entry_.rating ? std::optional{entry_.rating->discomfort} : std::nullopt;
    sheet.scale({.label = kEffortRating.question,
                 .low = kEffortRating.at_0,
                 .high = kEffortRating.at_10,
                 .value = effort},
                [this, rated](int to) {
                    entry_.rating = SelfRating{to, rated().discomfort};
                });
    sheet.scale({.label = kDiscomfortRating.question,
                 .low = kDiscomfortRating.at_0,
                 .high = kDiscomfortRating.at_10,
                 .value = discomfort},
                [this, rated](int to) {
                    entry_.rating = SelfRating{rated().effort, to};
                });
    sheet.text({.label = "In the client's words", .text = entry_.remark},
               [this](const std::string& text) { entry_.remark = text; });
}

Sheet HandEntryPage::lay_out()
{
    Sheet sheet;
    sheet.title = "Enter a practice by hand";
    sheet.lead = shortened(opened_->file.client.code, 40) +
                 ": marked as entered by hand wherever it is shown, and in no mean or median.";
    lay_out_when(sheet);
    lay_out_lines(sheet);
    lay_out_ratings(sheet);
    sheet.button({.label = is_waiting_ ? "Keeping it …" : "Keep this practice", .does = "keep it"},
                 [this] { keep(); });
    sheet.notice = fault_;
    return sheet;
}

}  // namespace

std::unique_ptr<Page> hand_entry_page(const OpenedClient& opened)
{
    return make_page<HandEntryPage>(opened);
}

}  // namespace holdwell
