#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/record_words.h"
#include "app/pages/row_page.h"
#include "app/practice/drill_words.h"
#include "app/practice/goal_builder.h"

namespace holdwell {
namespace {

class GoalSentencePage final : public RowPage {
public:
    explicit GoalSentencePage(const OpenedClient& opened);

protected:
    void heard(const Answer& answer) override;
    Sheet lay_out() override;

private:
    std::vector<std::pair<DrillKind, Note>> notes() const;
    void step_note(int by);
    void type_day(const std::string& text);
    std::string fault_at(const std::string& place) const;
    std::string day_fault() const;
    void lay_out_sentence(Sheet& sheet);
    void lay_out_set_goals(Sheet& sheet);
    void lay_out_sound(Sheet& sheet);
    void lay_out_measure(Sheet& sheet);
    void add_count(Sheet& sheet, ValueRow row, int MeasurableGoal::*count);

    OpenedClient opened_;
    MeasurableGoal goal_;
    std::string by_;  // as typed
    std::string notice_;
    std::string asked_for_;  // said when the records answer; empty: nothing was asked
};

Plan plan_of(const OpenedClient& opened)
{
    return opened->file.plans.empty() ? Plan{} : opened->file.plans.back();
}

GoalSentencePage::GoalSentencePage(const OpenedClient& opened)
    : opened_{opened}, goal_{usual_goal(plan_of(opened), opened->today)}
{
    if (goal_.by) by_ = typed_form_of(*goal_.by);
}

// What the plan asks to be held.
std::vector<std::pair<DrillKind, Note>> GoalSentencePage::notes() const
{
    const VoiceNotes voice = plan_of(opened_).voice;
    std::vector<std::pair<DrillKind, Note>> notes{{DrillKind::warm_up_hold, voice.warm_up}};
    for (const Note note : voice.ladder) notes.emplace_back(DrillKind::ladder_hold, note);
    return notes;
}

void GoalSentencePage::step_note(int by)
{
    const auto all = notes();
    const auto now = std::ranges::find(all, std::pair{goal_.kind, goal_.note});
    const auto at = now == all.end() ? 0 : now - all.begin();
    const auto last = static_cast<std::ptrdiff_t>(all.size()) - 1;
    const auto next = static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(at + by, 0, last));
    goal_.kind = all[next].first;
    goal_.note = all[next].second;
}

void GoalSentencePage::type_day(const std::string& text)
{
    by_ = text;
    goal_.by = date_typed(text);
}

std::string GoalSentencePage::fault_at(const std::string& place) const
{
    for (const Fault& fault : faults_of(goal_))
        if (fault.place.find(place) != std::string::npos) return fault.sentence;
    return {};
}

std::string GoalSentencePage::day_fault() const
{
    if (by_.empty() || goal_.by) return {};
    return "A day is typed as year-month-day: " + typed_form_of(opened_->today) + ".";
}

void GoalSentencePage::lay_out_sentence(Sheet& sheet)
{
    const std::string sentence = sentence_of(goal_, opened_->file.client.code);
    sheet.say("", sentence, TextBlock::Weight::large);
    if (!faults_of(goal_).empty()) return;
    const GoalRecord record =
        record_of(goal_, opened_->file, whole_record(opened_->file, opened_->today));
    sheet.say("What the record says", record.sentence);
    sheet.button({.label = "Set this goal",
                  .meaning = "Kept with the client, and read against what is sung from today on.",
                  .does = "set it"},
                 [this] {
                     if (!asked_for_.empty()) return;
                     asked_for_ = "Set. It stands on the client's page, and on every report.";
                     wish(Ask{SetGoal{opened_->file.client.id, goal_}});
                 });
    sheet.button({.label = "Copy the sentence", .meaning = "To the clipboard.", .does = "copy it"},
                 [this, sentence] {
                     wish(CopyText{sentence});
                     notice_ = "Copied.";
                 });
    sheet.link({.label = "Put it on a report"},
               [this] { wish(OpenPage{report_page(opened_, goal_)}); });
}

// All that were ever set: what was aimed at is part of the record.
void GoalSentencePage::lay_out_set_goals(Sheet& sheet)
{
    int number = 0;
    for (const ClientGoal& goal : opened_->file.goals) {
        ++number;
        sheet.say(fmt::format("Goal {} in the record", number),
                  set_goal_said(goal, opened_->file, opened_->today));
        if (goal.withdrawn_on) continue;
        sheet.button({.label = fmt::format("Withdraw goal {}", number),
                      .meaning = "From today on it is not aimed at. It stays in the record.",
                      .does = "withdraw it"},
                     [this, id = goal.id] {
                         asked_for_ = "Withdrawn.";
                         wish(Ask{WithdrawGoal{opened_->file.client.id, id}});
                     });
    }
}

void GoalSentencePage::heard(const Answer& answer)
{
    const auto* opened = std::get_if<ClientOpened>(&answer);
    if (opened != nullptr && opened->file.client.id == opened_->file.client.id)
        opened_ = std::make_shared<const ClientOpened>(*opened);
    if (asked_for_.empty()) return;
    if (opened != nullptr) notice_ = std::exchange(asked_for_, "");
    if (const auto* refused = std::get_if<Refused>(&answer)) {
        asked_for_.clear();
        notice_ = refused->sentence;
    }
}

void GoalSentencePage::lay_out_sound(Sheet& sheet)
{
    sheet.value({.label = "Hold", .value = drill_on_note_said(goal_.kind, goal_.note)},
                [this](int by) { step_note(by); });
    sheet.text({.label = "Sound",
                .text = goal_.sound,
                .meaning = "Such as /o/. Left empty: the practice sound.",
                .fault = fault_at("sound")},
               [this](const std::string& text) { goal_.sound = text; });
    sheet.value({.label = "Near enough", .value = band_said(goal_.band)}, [this](int by) {
        goal_.band.value = std::clamp(goal_.band.value + 10.0 * by, 10.0, 300.0);
    });
    sheet.value({.label = "For at least", .value = short_seconds(goal_.hold)}, [this](int by) {
        goal_.hold = std::clamp(goal_.hold + Seconds{0.5 * by}, Seconds{1.0}, Seconds{120.0});
    });
    sheet.value(
        {.label = "Beginning", .value = goal_.onset == OnsetAsked::easy ? "easy" : "as it comes"},
        [this](int) {
            goal_.onset = goal_.onset == OnsetAsked::easy ? OnsetAsked::any : OnsetAsked::easy;
        });
}

void GoalSentencePage::add_count(Sheet& sheet, ValueRow row, int MeasurableGoal::*count)
{
    row.value = std::to_string(goal_.*count);
    sheet.value(std::move(row),
                [this, count](int by) { goal_.*count = std::clamp(goal_.*count + by, 1, 30); });
}

void GoalSentencePage::lay_out_measure(Sheet& sheet)
{
    add_count(sheet, {.label = "In", .fault = fault_at("met")}, &MeasurableGoal::met);
    add_count(sheet, {.label = "Of trials", .fault = fault_at("trials")}, &MeasurableGoal::trials);
    add_count(sheet, {.label = "On consecutive practice days", .fault = fault_at("days")},
              &MeasurableGoal::days);
    sheet.value({.label = "Cueing",
                 .value = goal_.cueing == Cueing::independently ? "independently" : "with a cue"},
                [this](int) {
                    goal_.cueing = goal_.cueing == Cueing::independently ? Cueing::with_cue
                                                                         : Cueing::independently;
                });
    sheet.text({.label = "By",
                .text = by_,
                .meaning = "A day as year-month-day, or empty.",
                .fault = day_fault()},
               [this](const std::string& text) { type_day(text); });
}

Sheet GoalSentencePage::lay_out()
{
    Sheet sheet;
    sheet.title = "A goal in one sentence";
    sheet.lead = "Set by you, read against the record; the plan is not changed by it.";
    lay_out_sentence(sheet);
    lay_out_sound(sheet);
    lay_out_measure(sheet);
    lay_out_set_goals(sheet);
    sheet.notice = std::exchange(notice_, "");
    return sheet;
}

}  // namespace

std::unique_ptr<Page> goal_sentence_page(const OpenedClient& opened)
{
    return make_page<GoalSentencePage>(opened);
}

}  // namespace holdwell
