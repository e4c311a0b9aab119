#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/row_page.h"
#include "app/practice/drill_words.h"
#include "app/practice/goals.h"
#include "app/practice/taper.h"

namespace holdwell {
namespace {

class GoalPage final : public RowPage {
public:
    explicit GoalPage(const OpenedClient& opened);

protected:
    void heard(const Answer& answer) override;
    Sheet lay_out() override;

private:
    void adopt(const GoalSuggestion& suggestion);
    void move_taper(int by);
    void save(Plan plan);
    void lay_out_suggestion(Sheet& sheet, const Result<GoalSuggestion>& result);
    void lay_out_from_s(Sheet& sheet);
    void lay_out_from_volume(Sheet& sheet);
    void lay_out_by_hand(Sheet& sheet);
    void lay_out_taper(Sheet& sheet);

    OpenedClient opened_;
    Plan plan_;
    std::string volume_;  // as typed
    AirSupply air_;
    std::string seconds_;  // as typed
    bool is_waiting_{false};
    std::string notice_;
};

GoalPage::GoalPage(const OpenedClient& opened)
    : opened_{opened}, plan_{opened->file.plans.empty() ? Plan{} : opened->file.plans.back()}
{
}

void GoalPage::save(Plan plan)
{
    if (is_waiting_) return;
    is_waiting_ = true;
    plan.written = opened_->today;
    wish(Ask{SavePlan{.client = opened_->file.client.id, .plan = std::move(plan)}});
}

void GoalPage::adopt(const GoalSuggestion& suggestion)
{
    Plan plan = plan_;
    plan.goal = suggestion.goal;
    plan.goal->set_on = opened_->today;
    save(std::move(plan));
}

void GoalPage::move_taper(int by)
{
    Plan plan = plan_;
    plan.taper_step =
        std::clamp(plan.taper_step + by, 0, static_cast<int>(plan.taper.steps.size()));
    save(std::move(plan));
}

void GoalPage::heard(const Answer& answer)
{
    if (!is_waiting_) return;
    if (const auto* refused = std::get_if<Refused>(&answer)) {
        is_waiting_ = false;
        notice_ = refused->sentence;
    }
    if (const auto* saved = std::get_if<PlanSaved>(&answer);
        saved && saved->client == opened_->file.client.id) {
        is_waiting_ = false;
        plan_ = saved->plan;
        notice_ = fmt::format("Saved as revision {}. The client has it once the plan was handed "
                              "over.",
                              plan_.revision);
    }
}

// What is suggested, why, what it rests on, and what to look at again; then the one button.
void GoalPage::lay_out_suggestion(Sheet& sheet, const Result<GoalSuggestion>& result)
{
    if (!result) return sheet.say("", result.error().message, TextBlock::Weight::quiet);
    const GoalSuggestion& suggestion = result.value();
    std::string said = suggestion.goal.reasoning;
    for (const std::string& remark : suggestion.remarks) said += "\n" + remark;
    if (!suggestion.source.empty()) said += "\n" + suggestion.source;
    sheet.say("", said);
    const bool is_goal_now = plan_.goal && plan_.goal->hold == suggestion.goal.hold &&
                             plan_.goal->origin == suggestion.goal.origin;
    if (is_goal_now) return sheet.say("", "This is the goal now.", TextBlock::Weight::quiet);
    sheet.button({.label = fmt::format("Make {} the goal", short_seconds(suggestion.goal.hold)),
                  .meaning = "Saved as the next revision of the plan.",
                  .does = "adopt it"},
                 [this, suggestion] { adopt(suggestion); });
}

void GoalPage::lay_out_from_s(Sheet& sheet)
{
    const auto& practices = opened_->file.practices;
    const auto latest =
        std::find_if(practices.rbegin(), practices.rend(), [](const Practice& practice) {
            return practice.kind == PracticeKind::in_session && !sibilant_times(practice).s.empty();
        });
    if (latest == practices.rend())
        return sheet.say("From the /s/ baseline",
                         "No /s/ was timed in session yet. The client's page has the button for "
                         "three quiet ones.");
    sheet.say("From the /s/ baseline of " + day_in_words(latest->begun.date), "");
    lay_out_suggestion(sheet, goal_from_s(sibilant_times(*latest).s));
}

void GoalPage::lay_out_from_volume(Sheet& sheet)
{
    sheet.say("From volume and flow", "");
    const auto typed = number_typed(volume_);
    sheet.text({.label = "Volume in mL",
                .text = volume_,
                .meaning = "As measured elsewhere, 500 to 9000 mL.",
                .fault = volume_.empty() || typed ? "" : "A number, such as 3500."},
               [this](const std::string& text) { volume_ = text; });
    sheet.value(
        {.label = "That volume is",
         .value = air_.kind == VolumeKind::phonation_volume ? "phonation volume" : "vital capacity",
         .meaning = "Vital capacity is more than the air spent on a hold."},
        [this](int) {
            air_.kind = air_.kind == VolumeKind::phonation_volume ? VolumeKind::vital_capacity
                                                                  : VolumeKind::phonation_volume;
        });
    sheet.value(
        {.label = "Divided by a flow of",
         .value = fmt::format("{:.0f} mL/s", air_.flow.value),
         .meaning = "80 to 100 mL/s: the lower edge of ordinary flow."},
        [this](int by) { air_.flow.value = std::clamp(air_.flow.value + 5.0 * by, 80.0, 100.0); });
    if (!typed) return;
    air_.volume = {*typed};
    lay_out_suggestion(sheet, goal_from_volume(air_));
}

void GoalPage::lay_out_by_hand(Sheet& sheet)
{
    sheet.say("By hand", "");
    const auto typed = number_typed(seconds_);
    sheet.text({.label = "Seconds",
                .text = seconds_,
                .meaning = "1 to 120 s.",
                .fault = seconds_.empty() || typed ? "" : "A number, such as 18."},
               [this](const std::string& text) { seconds_ = text; });
    if (typed) lay_out_suggestion(sheet, goal_by_hand(Seconds{*typed}));
}

void GoalPage::lay_out_taper(Sheet& sheet)
{
    const auto& steps = plan_.taper.steps;
    if (steps.empty())
        return sheet.say("Taper", "The plan has no steps. They are written on the plan page.");
    const TaperAdvice advice = taper_advice(plan_, opened_->file.practices, opened_->today);
    sheet.say("Taper: now at " + taper_said(plan_), advice.reasoning);
    const auto now = static_cast<std::size_t>(plan_.taper_step);
    if (advice.move == TaperMove::next_step && now < steps.size())
        sheet.button({.label = "Take the next step: " + steps[now].name,
                      .meaning = "Saved as the next revision; leave it and all stays as it is.",
                      .does = "take it"},
                     [this] { move_taper(+1); });
    if (now == 0) return;
    sheet.button({.label = now == 1 ? "Go back to the full plan"
                                    : "Go one step back: " + steps[now - 2].name,
                  .meaning = "Saved as the next revision; leave it and all stays as it is.",
                  .does = "go back to it"},
                 [this] { move_taper(-1); });
}

Sheet GoalPage::lay_out()
{
    Sheet sheet;
    sheet.title = "Goals and taper";
    sheet.lead = shortened(opened_->file.client.code, 40) +
                 ": suggestions, with what they rest on. Only you adopt one.";
    sheet.say("Goal now", capitalised(goal_said(plan_.goal)) + "." +
                              (plan_.goal && !plan_.goal->reasoning.empty()
                                   ? " " + capitalised(plan_.goal->reasoning)
                                   : ""));
    sheet.button({.label = "Leave everything as it is", .does = "go back"},
                 [this] { wish(ClosePage{}); });
    lay_out_taper(sheet);
    lay_out_from_s(sheet);
    lay_out_from_volume(sheet);
    lay_out_by_hand(sheet);
    sheet.say("For the chart", "");
    sheet.link({.label = "A goal in one sentence",
                .meaning = "That can be measured: note, band, seconds, trials, days."},
               [this] { wish(OpenPage{goal_sentence_page(opened_)}); });
    sheet.notice = std::exchange(notice_, "");
    return sheet;
}

}  // namespace

std::unique_ptr<Page> goal_page(const OpenedClient& opened) { return make_page<GoalPage>(opened); }

}  // namespace holdwell
