#include "app/pages/hand_entry.h"

#include <algorithm>
#include <utility>

#include "app/pages/page_words.h"
#include "app/pages/pages.h"
#include "app/pages/row_page.h"
#include "app/practice/cautions.h"
#include "app/practice/drill_words.h"

namespace holdwell {
namespace {

bool is_timed_hold(DrillKind kind) { return has_target(kind); }
bool is_sibilant(DrillKind kind) { return !has_target(kind) && !is_glide(kind); }

// Kept at once, or not at all: after a refusal what was typed stands, and can be kept as it is
// then.
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
    void lay_out_when(Sheet& sheet);
    void lay_out_lines(Sheet& sheet);
    bool has_line(bool (*belongs)(DrillKind)) const;
    void lay_out_times(Sheet& sheet, bool (*belongs)(DrillKind));
    void lay_out_glides(Sheet& sheet);
    void lay_out_ratings(Sheet& sheet);

    OpenedClient opened_;
    Plan plan_;
    HandEntry entry_;
    std::string fault_;
    bool is_waiting_{false};
};

void HandEntryPage::keep()
{
    if (is_waiting_) return;
    fault_.clear();
    if (!is_sound(entry_, opened_->today)) {
        const std::string ratings = fault_of_ratings(entry_);
        fault_ =
            ratings.empty() ? "It was not kept yet: look at the lines with a remark." : ratings;
        return;
    }
    is_waiting_ = true;
    wish(Ask{KeepByHand{practice_of(entry_, opened_->file.client, plan_)}});
}

void HandEntryPage::heard(const Answer& answer)
{
    if (!is_waiting_) return;
    if (std::holds_alternative<PracticeClosed>(answer)) {
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

bool HandEntryPage::has_line(bool (*belongs)(DrillKind)) const
{
    return std::ranges::any_of(entry_.lines,
                               [&](const HandEntryLine& line) { return belongs(line.kind); });
}

void HandEntryPage::lay_out_times(Sheet& sheet, bool (*belongs)(DrillKind))
{
    for (std::size_t i = 0; i < entry_.lines.size(); ++i) {
        const HandEntryLine& line = entry_.lines[i];
        if (!belongs(line.kind)) continue;
        sheet.text({.label = drill_on_note_said(line.kind, line.note),
                    .text = line.typed,
                    .meaning = "Apart by blanks: 12.5 14.",
                    .fault = fault_of_line(line)},
                   [this, i](const std::string& text) { entry_.lines[i].typed = text; });
    }
}

void HandEntryPage::lay_out_glides(Sheet& sheet)
{
    for (std::size_t i = 0; i < entry_.lines.size(); ++i) {
        HandEntryLine& line = entry_.lines[i];
        if (!is_glide(line.kind)) continue;
        const std::string name = name_of(line.kind);
        sheet.value({.label = name + ", done", .value = times_said(line.glides)}, [&line](int by) {
            line.glides = std::clamp(line.glides + by, 0, kMostGlides);
        });
        sheet.text({.label = name + ", breaks heard",
                    .text = line.typed,
                    .meaning = "In each of them: 0 2. Empty: nobody counted.",
                    .fault = fault_of_line(line)},
                   [&line](const std::string& text) { line.typed = text; });
    }
}

void HandEntryPage::lay_out_lines(Sheet& sheet)
{
    if (has_line(is_timed_hold)) {
        sheet.say("Holds, in seconds", "One number for each trial; none where nothing was noted.");
        lay_out_times(sheet, is_timed_hold);
    }
    if (has_line(is_glide)) {
        sheet.say("Glides", "How many were done and, where somebody counted, the breaks.");
        lay_out_glides(sheet);
    }
    if (has_line(is_sibilant)) {
        sheet.say("/s/ and /z/, in seconds", "One number for each trial.");
        lay_out_times(sheet, is_sibilant);
    }
}

void HandEntryPage::lay_out_ratings(Sheet& sheet)
{
    sheet.scale({.label = kEffortRating.question,
                 .low = kEffortRating.at_0,
                 .high = kEffortRating.at_10,
                 .value = entry_.effort},
                [this](int to) { entry_.effort = to; });
    sheet.scale({.label = kDiscomfortRating.question,
                 .low = kDiscomfortRating.at_0,
                 .high = kDiscomfortRating.at_10,
                 .value = entry_.discomfort},
                [this](int to) { entry_.discomfort = to; });
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
